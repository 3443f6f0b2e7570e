import type { Block } from '../blocks.ts'

/** Blocks as text, for a golden test: every word of the report, no drawing but its description. */
export const plain = (blocks: readonly Block[]): string => `${blocks.map(plainBlock).join('\n')}\n`

function plainBlock(block: Block): string {
  switch (block.block) {
    case 'heading':
      return `\n${'#'.repeat(block.level)} ${block.title}`
    case 'paragraph':
      return block.text
    case 'caution':
      return `[${block.tone}] ${block.title}: ${block.text}`
    case 'facts':
      return block.facts
        .map(({ label, value, known }) => `${label}: ${value}${known === undefined ? '' : ` (${known})`}`)
        .join('\n')
    case 'table':
      return [
        block.caption,
        block.columns.map(({ label }) => label).join(' | '),
        ...block.rows.map((row) => row.map(({ text }) => text).join(' | '))
      ].join('\n  ')
    case 'figure':
      return `<figure ${block.width}: ${block.caption}> ${block.alt}`
    case 'list':
      return block.items.map((item) => `- ${item}`).join('\n')
    case 'page-break':
      return '---'
  }
}
