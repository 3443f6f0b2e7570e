import type { Tone } from '@trueloop/ground/picture'

/** Colors of the drawings' tones, by day and by night. Print takes the day's on white. */
const day: Readonly<Record<Tone, string>> = {
  ink: '#1b1a17',
  soft: '#4d4a43',
  faint: '#8f897c',
  accent: '#3a2fb0',
  amber: '#6f4300',
  red: '#9b1020',
  paper: '#fffdf8',
  tint: '#f3eee3',
  'tint-2': '#e4ecea'
}

const night: Readonly<Record<Tone, string>> = {
  ink: '#f1ede4',
  soft: '#c4beb1',
  faint: '#827c70',
  accent: '#b9b2ff',
  amber: '#ffcf85',
  red: '#ffb3b3',
  paper: '#161513',
  tint: '#24221e',
  'tint-2': '#1c2625'
}

/** What must be read, and on what: for the test of contrast. */
export const themes = { day, night }

const variables = (tones: Readonly<Record<Tone, string>>): string =>
  Object.entries(tones)
    .map(([name, color]) => `--${name}:${color}`)
    .join(';')

const toneClasses = Object.keys(day)
  .map((name) => `.s-${name}{stroke:var(--${name})}.f-${name}{fill:var(--${name})}`)
  .join('')

const fonts = `"Source Sans 3","Source Sans Pro","Noto Sans","Segoe UI",Candara,"Gill Sans","DejaVu Sans",sans-serif`

/** The whole style sheet: screen by day and night, and print. No address is fetched. */
export const style = `
:root{color-scheme:light dark;--rule:#cfc9bb;${variables(day)}}
@media (prefers-color-scheme:dark){:root{--rule:#423e37;${variables(night)}}}
@media print{:root{--rule:#bdb7aa;${variables({ ...day, paper: '#ffffff' })}}}
${toneClasses}
*{box-sizing:border-box}
html{background:var(--paper);color:var(--ink);font:16px/1.5 ${fonts};font-variant-numeric:tabular-nums}
body{max-width:60rem;margin:0 auto;padding:2rem 1.25rem 4rem}
h1{font-size:28px;line-height:1.2;margin:0 0 1.5rem;font-weight:600}
h2{font-size:20px;line-height:1.3;margin:3rem 0 .75rem;padding-top:.75rem;border-top:2px solid var(--ink);font-weight:600}
h3{font-size:16px;margin:2rem 0 .5rem;font-weight:600}
p,ul{margin:.5rem 0 1rem;max-width:44rem}
li{margin:.2rem 0}
nav ol{columns:2 14rem;margin:0 0 1.5rem;padding-left:1.75rem;max-width:44rem}
nav li{margin:0;break-inside:avoid}
a{color:var(--accent)}
.caution{border:1px solid var(--ink);border-left:6px solid var(--soft);padding:.6rem .9rem;margin:.75rem 0;max-width:44rem;background:var(--tint)}
.caution p{margin:.15rem 0 0}
.caution strong{display:block}
.warning{border-left-color:var(--amber)}
.warning strong{color:var(--amber)}
.stop{border-color:var(--red);border-left-color:var(--red)}
.stop strong{color:var(--red)}
dl{display:grid;grid-template-columns:minmax(9rem,14rem) 1fr;margin:.75rem 0 1.25rem;border-top:1px solid var(--rule)}
dt,dd{margin:0;padding:.25rem .5rem .25rem 0;border-bottom:1px solid var(--rule)}
dt{color:var(--soft)}
dd{overflow-wrap:anywhere}
.known{color:var(--soft);font-size:14px}
.known::before{content:"· "}
.wide{overflow-x:auto;margin:1rem 0 1.75rem}
table{border-collapse:collapse;width:100%;font-size:14px;line-height:1.4}
caption{text-align:left;font-weight:600;padding:0 0 .35rem;font-size:14px}
th,td{text-align:left;vertical-align:top;padding:.3rem .75rem .3rem 0;border-bottom:1px solid var(--rule)}
thead th{border-bottom:1.5px solid var(--ink);color:var(--soft);font-weight:600;vertical-align:bottom}
tbody th{font-weight:400}
th.figures,td.figures{text-align:right}
td.hash{font-family:ui-monospace,"DejaVu Sans Mono",monospace;font-size:12px;overflow-wrap:anywhere;min-width:11rem}
td:has(svg),th:has(svg){padding-left:1.6rem;text-indent:-1.6rem;min-width:11rem}
td svg,th svg{vertical-align:-3px;margin-right:.55rem}
table.narrow{width:auto;min-width:20rem}
.figures-row{display:grid;grid-template-columns:repeat(auto-fit,minmax(min(100%,18rem),1fr));gap:1rem 1.5rem;margin:1rem 0}
figure{margin:0;break-inside:avoid}
figure.whole{margin:1rem 0 1.5rem}
figure svg{display:block;max-width:100%;height:auto}
figcaption{font-size:14px;color:var(--soft);margin-top:.25rem}
.stamp{position:sticky;top:0;z-index:1;background:var(--red);color:var(--paper);padding:.3rem .9rem;margin:0 0 1.5rem;font-weight:600;max-width:none}
footer{margin-top:3rem;border-top:1px solid var(--rule);padding-top:.5rem;font-size:14px;color:var(--soft);overflow-wrap:anywhere}
@page{size:A4;margin:16mm 15mm 18mm}
@media print{
body{max-width:none;padding:0}
html{font-size:10.5pt}
h1{font-size:18pt}h2{font-size:13pt;margin-top:1.6rem;break-after:avoid}h3{font-size:11pt;break-after:avoid}
table,caption,.known,figcaption{font-size:9pt}
td.hash{font-size:7.5pt}
tr,.caution,dl{break-inside:avoid}
thead{display:table-header-group;break-after:avoid}
caption{break-after:avoid}
tbody tr:first-child{break-before:avoid}
.wide{overflow:visible}
.figures-row{grid-template-columns:repeat(3,1fr)}
.stamp{position:static;-webkit-print-color-adjust:exact;print-color-adjust:exact}
.page-break{break-after:page}
nav{display:none}
}`
