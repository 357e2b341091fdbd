import { dark, light, type Palette } from "./palette.ts";

function variables(palette: Palette): string {
  return Object.entries(palette)
    .map(([name, colour]) => `--${name}:${colour}`)
    .join(";");
}

/** The page's style sheet. Dark only on a screen that asks for it: paper stays white. */
export const styleSheet = `
:root{${variables(light)};color-scheme:light}
@media screen and (prefers-color-scheme:dark){:root{${variables(dark)};color-scheme:dark}}
*{box-sizing:border-box}
body{margin:0 auto;padding:1.5rem;max-width:62rem;background:var(--paper);color:var(--ink);font:16px/1.5 system-ui,sans-serif}
h1,h2,h3,h4,h5{line-height:1.2;margin:1.6em 0 .5em}
h1{margin-top:0}
.unit>:first-child,.site>h2{border-top:2px solid var(--rule);padding-top:.8em}
a{color:var(--link);white-space:nowrap}
p.quiet,small,caption,figcaption,footer,dd{color:var(--quiet)}
.scroll{overflow-x:auto;margin:.5em 0 1em}
table{border-collapse:collapse;font-variant-numeric:tabular-nums}
caption{text-align:left;padding:.3em 0}
th,td{padding:.25em .9em .25em 0;border-bottom:1px solid var(--rule);vertical-align:top;font-weight:400;text-align:left}
thead th{font-weight:600}
.number{text-align:right}
td.number{white-space:nowrap}
figure{margin:0 0 1em;break-inside:avoid}
svg{width:100%;height:auto;display:block}
svg text{font:11px system-ui,sans-serif;fill:var(--ink)}
.axis{stroke:var(--rule);fill:none}
.band{fill:var(--band)}
.mean{stroke:var(--mean);stroke-width:1.5;fill:none}
.alone{fill:var(--mean)}
.baseline{stroke:var(--baseline);stroke-width:1.5;stroke-dasharray:7 4;fill:none}
dt{font-weight:600}
dd{margin:0 0 .7em}
@media print{
@page{margin:15mm}
body{max-width:none;padding:0;font-size:10.5pt}
.scroll{overflow:visible;break-inside:avoid}
th,td{padding-right:.6em}
td.text,th[scope=row]{overflow-wrap:anywhere}
svg{height:36mm;width:auto;max-width:100%}
h1,h2,h3,h4,h5,caption{break-after:avoid}
.site{break-before:page}
tr{break-inside:avoid}
thead{display:table-header-group}
}
`;
