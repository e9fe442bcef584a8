import type { Direction } from "../../letters/body.js";
import { DAYLIGHT, HATCHING_DEG, type Inks, LAMPLIGHT } from "../../letters/palette.js";

const DIRECTIONS = Object.keys(HATCHING_DEG) as readonly Direction[];

/** The inks as the pages' own properties, so that one rule serves daylight, lamplight and paper. */
function inksAs({ paper, ink, quiet, rule, inset, directions }: Inks): string {
  const named = { paper, ink, quiet, rule, inset, ...directions };
  return Object.entries(named)
    .map(([name, colour]) => `--${name}:${colour}`)
    .join(";");
}

/** Colour says direction, never rank; the hatching says the same to a grey print. */
const hatchings = DIRECTIONS.map((direction) => {
  const ink = `var(--${direction})`;
  const lines = `${ink} 0,${ink} 3px,var(--paper) 3px,var(--paper) 7px`;
  return `.${direction}{--way:${ink};--hatch:repeating-linear-gradient(${HATCHING_DEG[direction]}deg,${lines})}`;
}).join("\n");

/**
 * The one stylesheet. It is set like a page of an almanac: serif text in one column, ruled tables,
 * no boxes. Sizes of what can be touched follow WCAG 2.2, 2.5.8, and go beyond it (44 px), for
 * fingers that are cold.
 */
export const STYLE = `
:root{color-scheme:light dark;${inksAs(DAYLIGHT)};--serif:Georgia,"Iowan Old Style","Noto Serif","DejaVu Serif",serif;--sans:-apple-system,"Segoe UI",Roboto,"Noto Sans","DejaVu Sans",Arial,sans-serif}
@media (prefers-color-scheme:dark){:root{${inksAs(LAMPLIGHT)}}}
${hatchings}
*{box-sizing:border-box}
html{background:var(--paper);color:var(--ink);font:1.0625rem/1.55 var(--serif);-webkit-text-size-adjust:100%;text-size-adjust:100%}
body{margin:0 auto;max-width:72rem;padding:0 max(1.25rem,env(safe-area-inset-right)) 3rem max(1.25rem,env(safe-area-inset-left));overflow-wrap:anywhere}
a{color:inherit;text-decoration-thickness:1px;text-underline-offset:.2em}
a:hover{text-decoration-thickness:2px}
:focus-visible{outline:3px solid var(--cold);outline-offset:3px}
main:focus{outline:none}
h1,h2,h3{font-weight:normal;line-height:1.25;text-wrap:balance}
h1{font-size:1.9rem;margin:1.6rem 0 .4rem}
h2{font-size:1.35rem;margin:2.4rem 0 .5rem}
h3{font-size:1.1rem;font-style:italic;margin:1.6rem 0 .3rem}
p,ul,ol{margin:0 0 .8rem;max-width:40rem}
li{margin:0 0 .4rem}
.quiet{color:var(--quiet)}
.small{font-size:.9375rem}
.skip{position:absolute;left:-99rem;padding:.7rem 1rem;background:var(--paper)}
.skip:focus{left:0}
.head{display:flex;flex-wrap:wrap;align-items:baseline;column-gap:2rem;border-bottom:3px double var(--rule);padding:.6rem 0 0}
.head p{margin:0;padding:.55rem 0;font-style:italic}
.head ul{display:flex;flex-wrap:wrap;list-style:none;margin:0 -.6rem;padding:0}
.head li{margin:0}
.head a{display:block;min-height:44px;min-width:44px;padding:.6rem;text-decoration:none}
.head a:hover{text-decoration:underline}
.head [aria-current]{font-weight:bold;text-decoration:underline;text-decoration-thickness:2px}
.foot{margin:3.5rem 0 0;border-top:1px solid var(--rule);padding:.8rem 0 0;color:var(--quiet);font-size:.9375rem}
.foot form{display:inline}
.says{font-size:1.5rem;line-height:1.35;max-width:34rem;margin:.4rem 0 .6rem}
.way{position:relative;padding-left:1.5rem}
.way::before{content:"";position:absolute;left:0;top:.15rem;bottom:.15rem;width:9px;background:var(--hatch)}
.way .said{color:var(--way)}
ul.events,ul.letters{list-style:none;padding:0}
ul.letters li{border-top:1px solid var(--rule);margin:0;padding:.6rem 0}
.columns{display:grid;grid-template-columns:repeat(auto-fill,minmax(min(22rem,100%),1fr));gap:0 3rem}
.columns h2{margin-bottom:.3rem}
ul.events li{padding-left:1.5rem;margin:0 0 .9rem}
ul.deeds{list-style:none;padding:0;max-width:none;gap:0 1rem;grid-template-columns:repeat(auto-fill,minmax(min(9.5rem,100%),1fr))}
.deeds li{margin:0}
.touch,.deeds a{display:inline-block;min-height:44px;padding:.6rem 0}
.unseen{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%);white-space:nowrap}
.event{margin:1.6rem 0}
.event h3{font-style:normal;font-size:1.25rem;margin:0 0 .2rem}
.event form{margin:.6rem 0 0}
dl.ledger{margin:.4rem 0 1rem;max-width:34rem}
dl.ledger div{display:grid;grid-template-columns:minmax(7rem,2fr) 3fr;gap:1rem;border-top:1px solid var(--rule);padding:.4rem 0}
dl.ledger div:last-child{border-bottom:1px solid var(--rule)}
dl.ledger dt{color:var(--quiet)}
dl.ledger dd{margin:0;text-align:right;font-variant-numeric:lining-nums tabular-nums}
.scroll{position:relative;overflow-x:auto;max-width:100%;margin:0 0 1.2rem}
table{border-collapse:collapse;font:1rem/1.4 var(--sans);font-variant-numeric:lining-nums tabular-nums;overflow-wrap:normal}
caption{text-align:left;font:italic 1rem/1.4 var(--serif);color:var(--quiet);padding:0 0 .4rem}
th,td{text-align:left;vertical-align:top;padding:.45rem 1.4rem .45rem 0;border-top:1px solid var(--rule);font-weight:normal}
thead th{color:var(--quiet);border-top:0;vertical-align:bottom}
tbody tr:last-child>*{border-bottom:1px solid var(--rule)}
td.n,th.n{text-align:right}
tbody th{white-space:nowrap}
tbody th.long{white-space:normal}
thead th{white-space:nowrap}
td.long{min-width:12rem;overflow-wrap:anywhere}
pre{font:.95rem/1.5 Menlo,Consolas,"DejaVu Sans Mono",monospace;white-space:pre-wrap;overflow-wrap:anywhere;max-width:44rem;border-left:1px solid var(--rule);padding:0 0 0 1rem}
figure{margin:1rem 0 1.4rem}
figure svg{display:block;max-width:100%;height:auto}
figcaption{color:var(--quiet);font-style:italic;max-width:40rem}
summary{min-height:44px;padding:.6rem 0;cursor:pointer;color:var(--quiet)}
.steps{display:flex;flex-wrap:wrap;justify-content:space-between;gap:0 2rem;margin:.6rem 0 -1rem;font:1rem/1.4 var(--sans)}
.steps a{display:inline-block;min-height:44px;padding:.65rem 0}
.steps [rel=next]{margin-left:auto}
.steps [rel=prev]::before{content:"\\2190\\a0"}
.steps [rel=next]::after{content:"\\a0\\2192"}
.plate figure{position:relative}
.hair{position:absolute;border:1px solid var(--ink);border-width:0 1px;pointer-events:none}
.readout{min-height:3.2em;margin:.5rem 0 0;font:.9375rem/1.5 var(--sans);color:var(--quiet)}
button{font:1rem/1.3 var(--sans);min-height:48px;padding:.6rem 1.4rem;color:var(--ink);background:var(--paper);border:1px solid var(--ink);border-radius:0;cursor:pointer}
button:hover{background:var(--inset)}
.foot button{min-height:44px;border-color:var(--quiet);color:var(--quiet)}
.field{max-width:30rem;margin:0 0 1.2rem}
.field label{display:block}
fieldset.field{border:0;padding:0}
legend{padding:0}
.field .box{display:flex;align-items:center;gap:.7rem;min-height:44px}
.box input{flex:none;width:1.5rem;min-height:1.5rem;margin:0;accent-color:var(--ink)}
.hint{display:block;color:var(--quiet);font-size:.9375rem}
.fault{display:block;font-weight:bold}
.fault::before{content:"\\2192\\a0"}
input,select,textarea{display:block;width:100%;min-height:48px;margin:.25rem 0 0;padding:.5rem .7rem;font:1.0625rem/1.4 var(--sans);color:var(--ink);background:var(--paper);border:1px solid var(--quiet);border-radius:0}
[aria-invalid]{border-width:3px;border-color:var(--ink)}
.faults{border:1px solid var(--ink);padding:.4rem 1rem;margin:0 0 1.4rem;max-width:40rem}
.faults h2{font-size:1.1rem;margin:.3rem 0}
@media (max-width:30rem){html{font-size:1.0625rem}h1{font-size:1.55rem}.says{font-size:1.3rem}th,td{padding-right:.9rem}.event button{width:100%}figure svg{width:100%}}
@media (max-width:38rem){
.lines{overflow-x:visible}
.lines :is(table,tbody,tr,td,th){display:block;min-width:0;padding:0;border:0;white-space:normal;overflow-wrap:anywhere;text-align:left}
.lines caption{display:block}
.lines thead{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}
.lines tr{border-top:1px solid var(--rule);padding:.6rem 0}
.lines tbody tr:last-child{border-bottom:1px solid var(--rule)}
.lines tbody tr:last-child>*{border-bottom:0}
.lines [data-head]::before{content:attr(data-head) ": ";color:var(--quiet)}
}
@media (prefers-reduced-motion:no-preference){html{scroll-behavior:smooth}}
@media print{
:root{color-scheme:light;${inksAs({ ...DAYLIGHT, paper: "#fff", inset: "#fff" })}}
@page{margin:15mm}
html{font-size:10.5pt}
body{max-width:none;padding:0}
.scroll{overflow:visible}
thead th,tbody th{white-space:normal}
td.long{min-width:5.2rem}
nav,.skip,form,summary,.readout,.hair,.unprinted{display:none}
.head{padding:0}
a{text-decoration:none}
h1,h2,h3,caption,thead{break-after:avoid}
tr,svg,.event,dl.ledger div{break-inside:avoid}
*{print-color-adjust:exact;-webkit-print-color-adjust:exact}
}
`;
