import { expect, test } from "vitest";
import { layFigures } from "../../../../daemon/cli/winter/text-figures.js";

test("a remark stands beside its value, or under it where the line is full", () => {
  const figures = [
    { label: "Not seen", value: "30 h", remark: null },
    { label: "In band", value: "97 %", remark: "of 4323 hours" },
    { label: "Reserve used", value: "about 48 days", remark: "46 to 49; days at 4 °C, reckoned" },
  ];
  expect(layFigures(figures, 36)).toBe(
    [
      "Not seen      30 h",
      "In band       97 % (of 4323 hours)",
      "Reserve used  about 48 days",
      "              46 to 49; days at 4",
      "              °C, reckoned",
    ].join("\n"),
  );
});
