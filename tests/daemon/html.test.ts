import fc from "fast-check";
import { expect, test } from "vitest";
import { html } from "../../daemon/html.js";

test("text and numbers are escaped, markup is not escaped twice, nothing leaves nothing", () => {
  const name = `<b title='x'>"&"</b>`;
  expect(html`<p>${name}</p>`.toString()).toBe(
    "<p>&lt;b title=&#39;x&#39;&gt;&quot;&amp;&quot;&lt;/b&gt;</p>",
  );
  expect(
    html`<p>${html`<i>${"<"}</i>`}${[1, "a", [null]]}${false}${undefined}</p>`.toString(),
  ).toBe("<p><i>&lt;</i>1a</p>");
});

/** Any UTF-16 units, paired or not. */
const anyText = fc
  .array(fc.integer({ min: 0, max: 0xffff }))
  .map((units) => String.fromCharCode(...units));

test("whatever stands in a template, it adds no tag and leaves no attribute", () => {
  fc.assert(
    fc.property(anyText, (value) => {
      const made = html`<p title="${value}">${value}</p>`.toString();
      expect(made.match(/[<>]/g)).toHaveLength(4);
      expect(made.match(/"/g)).toHaveLength(2);
    }),
    { seed: 1, numRuns: 300 },
  );
});
