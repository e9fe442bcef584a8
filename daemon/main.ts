#!/usr/bin/env node
import { runCommand } from "./cli/program.js";

process.exitCode = await runCommand(process.argv.slice(2));
