import type { LetterBody, Section } from "./body.js";

/** A part of a letter as text. */
export function setTextSection({ heading, sentences, points = [], figures }: Section): string {
  const widest = Math.max(0, ...figures.map((figure) => figure.label.length));
  const rows = figures.map(({ label, value, remark }) =>
    `  ${label.padEnd(widest)}  ${value}${remark === null ? "" : ` (${remark})`}`.trimEnd(),
  );
  const told = sentences.length > 0 ? [sentences.join(" ")] : [];
  const listed = points.map((point) => `- ${point}`);
  return [heading, ...told, ...listed, ...rows].join("\n");
}

function setSteps(body: LetterBody): string[] {
  const steps = body.steps.map((step, i) => `${i + 1}. ${step}`);
  const numbered = steps.length > 0 ? [[body.stepsHeading, ...steps].join("\n")] : [];
  const cautions = body.cautions.length > 0 ? [["Take care", ...body.cautions].join("\n")] : [];
  return [...numbered, ...cautions];
}

/** The plain-text side of a letter. Its first line is the deed; long lines are left unbroken. */
export function setText(body: LetterBody): string {
  const sections = body.sections.map(setTextSection);
  return `${[
    body.deed,
    ...sections.slice(0, body.stepsAfter),
    ...setSteps(body),
    ...sections.slice(body.stepsAfter),
    ...body.closing.map(({ sentence, command }) =>
      command === null ? sentence : `${sentence}\n    ${command}`,
    ),
    `-- \n${body.signature}`,
  ].join("\n\n")}\n`;
}
