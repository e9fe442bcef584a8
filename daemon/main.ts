#!/usr/bin/env node
import { preferSmallHeap } from "./keep/small-heap.js";

preferSmallHeap();
const { runCommand } = await import("./cli/program.js");
process.exitCode = await runCommand(process.argv.slice(2));
