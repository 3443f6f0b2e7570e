import { escapeXml } from '@trueloop/ground/picture'
import type { Block, Cell, Column, Fact } from '@trueloop/job/record'
import type { Page } from './page.ts'
import { style } from './style.ts'

/**
 * One HTML file that needs nothing else: style inside, drawings inside, no script, nothing fetched. Headings in order,
 * tables with captions and header cells, every drawing with its words.
 */
export const html = ({ title, blocks, stamp, footer }: Page): string => `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; img-src data:">
<title>${escapeXml(title)}</title>
<style>${style}</style>
</head>
<body>
${stamp === undefined ? '' : `<p class="stamp">${escapeXml(stamp)}</p>\n`}<main>
${parts(blocks)}
</main>
${footer === undefined ? '' : `<footer>${escapeXml(footer)}</footer>\n`}</body>
</html>
`

/** Blocks one after the other; half-width drawings that follow each other stand side by side. */
function parts(blocks: readonly Block[]): string {
  const texts: string[] = []
  for (let at = 0; at < blocks.length; ) {
    const row = halvesFrom(blocks, at)
    texts.push(
      row.length > 0
        ? `<div class="figures-row">${row.map((block) => text(block)).join('')}</div>`
        : text(blocks[at]!, blocks)
    )
    at += Math.max(1, row.length)
  }
  return texts.join('\n')
}

function halvesFrom(blocks: readonly Block[], from: number): readonly Block[] {
  const rest = blocks.slice(from, from + 12)
  const end = rest.findIndex((block) => block.block !== 'figure' || block.width !== 'half')
  return end < 0 ? rest : rest.slice(0, end)
}

function text(block: Block, all: readonly Block[] = []): string {
  switch (block.block) {
    case 'heading':
      return headingText(block, all)
    case 'paragraph':
      return `<p>${escapeXml(block.text)}</p>`
    case 'caution':
      return `<div class="caution ${block.tone}" role="note"><strong>${escapeXml(block.title)}</strong><p>${escapeXml(block.text)}</p></div>`
    case 'facts':
      return `<dl>${block.facts.map(factText).join('')}</dl>`
    case 'table':
      return tableText(block)
    case 'figure':
      return figureText(block)
    case 'list':
      return `<ul>${block.items.map((item) => `<li>${escapeXml(item)}</li>`).join('')}</ul>`
    case 'page-break':
      return '<div class="page-break"></div>'
  }
}

type Of<Kind extends Block['block']> = Extract<Block, { readonly block: Kind }>

/** The parts of the page can be gone to; after the title stands the list of them. */
function headingText({ level, title }: Of<'heading'>, all: readonly Block[]): string {
  const heads = all.filter((block): block is Of<'heading'> => block.block === 'heading' && block.level === 2)
  const items = heads.map((head) => `<li><a href="#${anchor(head.title)}">${escapeXml(head.title)}</a></li>`).join('')
  const list = level === 1 && heads.length > 1 ? `\n<nav aria-label="Contents"><ol>${items}</ol></nav>` : ''
  const id = level === 2 ? ` id="${anchor(title)}"` : ''
  return `<h${level}${id}>${escapeXml(title)}</h${level}>${list}`
}

const anchor = (title: string): string => title.toLowerCase().replaceAll(/[^a-z0-9]+/g, '-')

function factText({ label, value, known }: Fact): string {
  const how = known === undefined ? '' : ` <span class="known">${escapeXml(known)}</span>`
  return `<dt>${escapeXml(label)}</dt><dd>${escapeXml(value)}${how}</dd>`
}

function tableText({ caption, columns, rows }: Of<'table'>): string {
  const heads = columns.map(
    ({ label, figures }) => `<th scope="col"${figures === true ? ' class="figures"' : ''}>${escapeXml(label)}</th>`
  )
  const body = rows.map((row) => `<tr>${row.map((cell, at) => cellText(cell, columns[at], at === 0)).join('')}</tr>`)
  return `<div class="wide" tabindex="0" role="group" aria-label="${escapeXml(caption)}"><table${columns.length < 4 ? ' class="narrow"' : ''}><caption>${escapeXml(caption)}</caption><thead><tr>${heads.join('')}</tr></thead>
<tbody>${body.join('\n')}</tbody></table></div>`
}

const isHash = (value: string): boolean => /^[0-9a-f]{12,}$/.test(value)

/** The first cell of a row names the row. */
function cellText({ text: words, symbol = '' }: Cell, column: Column | undefined, isFirst: boolean): string {
  const look = column?.figures === true ? ' class="figures"' : isHash(words) ? ' class="hash"' : ''
  const [open, close] = isFirst ? [`th scope="row"${look}`, 'th'] : [`td${look}`, 'td']
  return `<${open}>${symbol}${escapeXml(words)}</${close}>`
}

/** The drawing's own description gives way to the block's, which is the fuller one. */
function figureText({ svg, alt, caption, width }: Of<'figure'>): string {
  const drawing = svg.replace(/<title>[^<]*<\/title>/, () => `<title>${escapeXml(alt)}</title>`)
  return `<figure class="${width}">${drawing}<figcaption>${escapeXml(caption)}</figcaption></figure>`
}
