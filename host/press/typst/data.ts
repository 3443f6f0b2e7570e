import type { Block } from '@trueloop/job/record'
import { drawingData, drawingRow } from './drawings.ts'
import { factsData } from './facts.ts'
import { bodySize, inner, type Setting } from './setting.ts'
import { tableData } from './table.ts'

/** Blocks as the template sets them: plain JSON, in which each text is a string and nothing else. */
export function blocksData(setting: Setting, blocks: readonly Block[]): readonly object[] {
  const all: object[] = []
  for (let at = 0; at < blocks.length; ) {
    const row = drawingRow(blocks, at)
    all.push(row.length > 0 ? drawingData(setting, row) : blockData(setting, blocks[at]!))
    at += Math.max(1, row.length)
  }
  return all
}

function blockData(setting: Setting, block: Block): object {
  const { text } = setting
  switch (block.block) {
    case 'heading':
      return { ...block, title: text(block.title, inner / titleSize) }
    case 'paragraph':
      return { ...block, text: text(block.text, inner / bodySize) }
    case 'caution':
      return { ...block, title: text(block.title, boxed), text: text(block.text, boxed) }
    case 'facts':
      return factsData(setting, block.facts)
    case 'table':
      return tableData(setting, block)
    case 'list':
      return { ...block, items: block.items.map((item) => text(item, boxed)) }
    case 'figure':
      return drawingData(setting, [block])
    case 'page-break':
      return block
  }
}

const titleSize = 18

/** Room of a line inside a box or a list, in ems of the body. */
const boxed = (inner - 20) / bodySize
