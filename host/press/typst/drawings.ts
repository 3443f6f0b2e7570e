import type { Block } from '@trueloop/job/record'
import { family } from './fonts.ts'
import { bodySize, inner, type Setting } from './setting.ts'

type Figure = Extract<Block, { readonly block: 'figure' }>

/** Half-width drawings that follow each other stand side by side, two in a row. */
export function drawingRow(blocks: readonly Block[], from: number): readonly Figure[] {
  const all: Figure[] = []
  for (const block of blocks.slice(from, from + 2)) {
    if (block.block !== 'figure' || block.width !== 'half') break
    all.push(block)
  }
  return all
}

const gutter = 12

/** Highest drawing that still leaves room for its caption on a page, in points. */
const highest = 640

/** Drawings in a row, each as wide as its column, or less where it would be higher than a page. */
export function drawingData(setting: Setting, row: readonly Figure[]): object {
  const isHalf = row[0]?.width === 'half'
  const room = isHalf ? (inner - gutter) / 2 : inner
  const figures = row.map(({ svg, alt, caption }) => ({
    ...{ svg: printed(setting, svg), alt: setting.show(alt), caption: setting.text(caption, room / bodySize) },
    width: widthFor(svg, isHalf ? 0.86 * room : room)
  }))
  return { block: 'figures', columns: isHalf ? 2 : 1, figures }
}

/** Drawings name no font of their own: a page gives its own, and so does the print. */
const printed = ({ drawing }: Setting, svg: string): string =>
  drawing(svg).replace('<svg ', () => `<svg font-family="${family}" `)

function widthFor(svg: string, room: number): number {
  const [width, height] = [sideOf(svg, 'width'), sideOf(svg, 'height')]
  return Math.min(room, (highest * width) / height, width)
}

const sideOf = (svg: string, side: 'width' | 'height'): number =>
  Number(new RegExp(`^<svg [^>]*\\b${side}="([\\d.]+)"`).exec(svg)?.[1] ?? 1)
