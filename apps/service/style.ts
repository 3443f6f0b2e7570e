/**
 * Paper, ink, one accent. Every text has a contrast of 7:1 or more on its ground (WCAG 2.2, 1.4.6), in both themes
 * and on paper; `service.test.ts` computes it.
 */
export const themes = {
  light: {
    paper: '#f7f4ec',
    sheet: '#fffdf8',
    ink: '#1b1c22',
    quiet: '#45464f',
    line: '#b9b4a6',
    accent: '#3a2d8c',
    amber: '#6b3f00',
    red: '#8c1616'
  },
  dark: {
    paper: '#15161b',
    sheet: '#1d1f26',
    ink: '#f1eee6',
    quiet: '#c3c1ba',
    line: '#4a4c57',
    accent: '#b9b1ff',
    amber: '#ffc46b',
    red: '#ffb0a8'
  }
} as const

type Theme = (typeof themes)[keyof typeof themes]

const variables = (theme: Theme): string =>
  Object.entries(theme)
    .map(([name, value]) => `--${name}:${value}`)
    .join(';')

export const style = `
:root{color-scheme:light dark;${variables(themes.light)}}
@media (prefers-color-scheme:dark){:root{${variables(themes.dark)}}}
@media print{:root{${variables(themes.light)};--paper:#fff;--sheet:#fff}}
*{box-sizing:border-box}
body{
  margin:0; background:var(--paper); color:var(--ink);
  font:16px/1.5 Seravek,"Gill Sans Nova",Ubuntu,Calibri,"DejaVu Sans",source-sans-pro,sans-serif;
  font-variant-numeric:tabular-nums;
}
main,header.top,footer{max-width:72rem;margin:0 auto;padding:0 1.5rem}
header.top{display:flex;align-items:center;gap:1rem;min-height:64px}
header.top a{
  display:inline-flex; align-items:center; min-height:44px; color:var(--ink); text-decoration:none;
  font-size:20px;
}
header.top .name{font-weight:600;letter-spacing:.01em}
header.top .where{color:var(--quiet);font-size:14px;margin-left:auto}
h1{font-size:28px;line-height:1.2;font-weight:600;margin:1rem 0 .25rem}
h2{font-size:20px;font-weight:600;margin:2.5rem 0 .75rem}
p{margin:.25rem 0 .75rem;max-width:72ch}
a{color:var(--accent)}
a:focus-visible{outline:3px solid var(--accent);outline-offset:2px;border-radius:4px}
a.plain{display:inline-flex;align-items:center;min-height:44px}
.quiet{color:var(--quiet)}
.small{font-size:14px}
.demonstration{
  border:2px solid var(--amber); color:var(--amber); padding:.5rem .75rem; border-radius:6px;
  font-weight:600; max-width:none;
}
.action{
  display:inline-flex; align-items:center; min-height:44px; padding:0 1.25rem; margin:.5rem 0;
  border-radius:6px; background:var(--accent); color:var(--sheet); text-decoration:none;
  font-weight:600;
}
.counts{display:flex;flex-wrap:wrap;gap:.5rem 2rem;margin:1rem 0;padding:0;list-style:none}
.counts b{font-size:28px;font-weight:600;margin-right:.4rem}
.places{
  display:grid; grid-template-columns:repeat(auto-fill,minmax(15.5rem,1fr)); gap:.75rem; padding:0;
  margin:0; list-style:none;
}
.places li,.jobs a{background:var(--sheet);border:1px solid var(--line);border-radius:8px}
.places li{display:flex;gap:.9rem;align-items:flex-start;padding:.8rem .9rem}
.places .name{font-size:20px;font-weight:600;line-height:1.2}
.places .state{display:block;line-height:1.3;margin:.1rem 0 .3rem}
.places .fact{display:block;font-size:14px;line-height:1.35;color:var(--quiet)}
.jobs{padding:0;margin:1rem 0;list-style:none;display:grid;gap:.75rem}
.jobs a{display:block;padding:.9rem 1.1rem;color:var(--ink);text-decoration:none}
.jobs a:hover{border-color:var(--accent)}
.jobs .name{font-size:20px;font-weight:600}
.missing{padding:0;margin:0;list-style:none;border-left:4px solid var(--amber)}
.missing li{padding:.4rem 0 .4rem 1rem}
.missing b{font-weight:600}
.mark{flex:none;color:var(--ink)}
.mark .line{fill:none;stroke:currentColor;stroke-width:3}
.mark .dashed{stroke-dasharray:6 4.5}
.mark .hatch{fill:none;stroke:currentColor;stroke-width:1.6}
.mark .fill{fill:currentColor}
.mark .paper{stroke:var(--paper,#fff)}
.mark .former{opacity:.55}
.failed{color:var(--red);font-weight:600}
dl.refusal{
  display:grid; grid-template-columns:max-content 1fr; gap:.4rem 1rem;
  border-left:4px solid var(--red); padding-left:1rem;
}
dl.refusal dt{color:var(--red);font-weight:600}
dl.refusal dd{margin:0}
code{
  font-family:ui-monospace,"Cascadia Mono",Menlo,"DejaVu Sans Mono",monospace; font-size:14px;
  overflow-wrap:anywhere;
}
footer{
  margin-top:3rem; padding-top:1rem; padding-bottom:2rem; border-top:1px solid var(--line);
  color:var(--quiet); font-size:14px;
}
footer p{max-width:none;margin:.2rem 0}
@media print{.action,header.top .where{display:none}.places li{break-inside:avoid}}
`
