import type { Block } from '@trueloop/job/record'
import { table } from './say.ts'

/** Neutral blocks as lines of a terminal. A drawing is told by its caption: the report shows it. */
export const blocksText = (blocks: readonly Block[]): readonly string[] => blocks.flatMap(linesOf)

function linesOf(block: Block): readonly string[] {
  switch (block.block) {
    case 'heading':
      return block.level === 1 ? [block.title] : ['', block.title]
    case 'paragraph':
      return [block.text]
    case 'caution':
      return [`${markOf[block.tone]}${block.title}`, `  ${block.text}`]
    case 'facts':
      return block.facts.map(
        ({ label, value, known }) => `  ${label}: ${value}${known === undefined ? '' : ` (${known})`}`
      )
    case 'table':
      return [
        `  ${block.caption}`,
        ...table([
          block.columns.map(({ label }) => label),
          ...block.rows.map((row) => row.map(({ text }) => text))
        ]).map((line) => `    ${line}`)
      ]
    case 'list':
      return block.items.map((item) => `  - ${item}`)
    case 'figure':
      return [`  drawn in the report: ${block.caption}`]
    case 'page-break':
      return []
  }
}

const markOf = { note: '', warning: 'MIND: ', stop: 'STOP: ' } as const
