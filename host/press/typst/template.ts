import { family } from './fonts.ts'

/** Where the template finds what it sets. */
export const dataFile = 'report.json'

/**
 * The whole markup of a print. It is the same for every report: words of a record stand in the data file alone and are
 * set as strings, which typst never reads as markup. Nothing may be put together into this text.
 */
export const template = `
#let d = json("${dataFile}")
#let ink = rgb("#1b1a17")
#let soft = rgb("#4d4a43")
#let rule = rgb("#bdb7aa")
#let tones = (note: soft, warning: rgb("#6f4300"), stop: rgb("#9b1020"))
#let lines = (left: none, right: none, top: none, bottom: 0.4pt + rule)
#let say(words) = if type(words) == str { words } else { words.pieces.join(h(0.01pt)) }

#set document(title: d.title, date: auto)
#set page(
  paper: "a4",
  margin: (x: 16mm, top: if d.mark == none { 16mm } else { 23mm }, bottom: 21mm),
  header: if d.mark != none {
    block(fill: tones.stop, width: 100%, inset: (x: 6pt, y: 4pt), text(fill: white, weight: 600, size: 9pt, d.mark))
  },
  header-ascent: 4mm,
  footer: {
    set text(size: 7.5pt, fill: soft)
    grid(
      stroke: (top: 0.4pt + rule), inset: (x: 0pt, top: 4pt),
      columns: (1fr, auto), align: (left, right),
      say(d.foot),
      context [Page #counter(page).display("1 of 1", both: true)],
    )
  },
  footer-descent: 5mm,
)
#set text(
  font: "${family}", fallback: false, lang: "en", region: "us", size: 9.5pt, fill: ink,
  number-width: "tabular", ligatures: false, hyphenate: false,
)
#set par(leading: 0.55em, spacing: 0.8em, justify: false)
#set list(marker: [•], spacing: 0.6em, indent: 2pt)
#set heading(numbering: none)
#show heading.where(level: 1): set text(size: 18pt, weight: 600)
#show heading.where(level: 2): it => block(
  above: 22pt, below: 9pt, width: 100%, sticky: true, stroke: (top: 1.2pt + ink), inset: (top: 6pt),
  text(size: 13pt, weight: 600, it.body),
)
#show heading.where(level: 3): set text(size: 10.5pt, weight: 600)
#show heading.where(level: 3): set block(above: 14pt, below: 7pt)
#set figure(gap: 5pt, numbering: none, supplement: none)
#set figure.caption(position: top)
#show figure.where(kind: "table"): set block(breakable: true)
#show figure.caption: it => block(width: 100%, sticky: true, align(left, it.body))
#set outline(title: none, indent: 0pt)
#show outline.entry: set text(size: 9pt, fill: soft)

#let symbols = d.symbols.map(one => box(
  width: 0.95em, height: 0.65em,
  place(bottom, dy: 0.14em, pdf.artifact(image(bytes(one), format: "svg", height: 0.95em))),
))

#let caution(it) = block(
  width: 100%, breakable: false, inset: (left: 9pt, right: 7pt, y: 6pt), above: 8pt, below: 8pt,
  stroke: (left: 3pt + tones.at(it.tone), rest: 0.5pt + tones.at(it.tone)),
  { text(weight: 600, fill: tones.at(it.tone), say(it.title)); parbreak(); say(it.text) },
)

#let facts(it) = block(above: 8pt, below: 12pt, grid(
  columns: it.widths.map(width => width * 1pt), inset: (left: 0pt, right: 8pt, y: 2.6pt),
  stroke: lines,
  ..it.facts.map(((label, value, known)) => (
    text(fill: soft, say(label)),
    if known == none { say(value) } else { [#say(value)#h(4pt)#text(size: 8.5pt, fill: soft, say(known))] },
  )).flatten(),
))

#let cell(it) = if type(it) == dictionary and "symbol" in it {
  par(hanging-indent: 14pt, { symbols.at(it.symbol); h(4pt); say(it.text) })
} else if type(it) == dictionary and "small" in it { text(size: 0.78em, say(it.small)) } else { say(it) }

#let listing(it) = {
  set text(size: it.size * 1pt)
  set table.cell(breakable: it.breaks)
  v(3pt)
  figure(kind: "table", caption: text(weight: 600, size: 9pt, say(it.caption)), align(left, table(
    columns: it.widths.map(width => width * 1pt),
    inset: (left: 0pt, right: 8pt, y: 2.6pt),
    stroke: lines,
    align: it.right.map(one => if one { right } else { left }),
    table.header(
      ..it.heads.map(head => table.cell(align: bottom, text(weight: 600, fill: soft, say(head)))),
      table.hline(stroke: 0.9pt + ink),
    ),
    ..it.cells.map(cell),
  )))
  v(6pt)
}

#let drawing(it) = figure(
  kind: image,
  align(left, image(bytes(it.svg), format: "svg", width: it.width * 1pt, alt: it.alt)),
)
#let drawings(it) = block(above: 9pt, below: 11pt, breakable: false, width: 100%, grid(
  columns: it.columns, column-gutter: 12pt, row-gutter: 9pt,
  ..it.figures.map(one => {
    drawing(one)
    v(-4pt)
    text(size: 8.5pt, fill: soft, say(one.caption))
  }),
))

#for it in d.blocks {
  if it.block == "heading" {
    heading(level: it.level, say(it.title))
    if it.level == 1 and d.contents { outline(target: heading.where(level: 2)) }
  } else if it.block == "paragraph" { par(say(it.text)) }
  else if it.block == "caution" { caution(it) }
  else if it.block == "facts" { facts(it) }
  else if it.block == "table" { listing(it) }
  else if it.block == "figures" { drawings(it) }
  else if it.block == "list" { list(..it.items.map(say)) }
  else if it.block == "page-break" { pagebreak(weak: true) }
}
#for it in d.attachments {
  pdf.attach(it.name, read(it.file, encoding: none), relationship: it.relationship, mime-type: it.mime, description: it.description)
}
`
