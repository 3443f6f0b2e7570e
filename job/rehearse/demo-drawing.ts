import { type Mark, type Point, svg } from '@trueloop/ground/picture'
import type { SheetDrawing } from '../plan/index.ts'
import { demoHoles } from './demo-holes.ts'

/** The drawing of the demonstration's panel: as invented as the panel. */

const width = 840
const height = 420

/** Upper and lower sheet edge, and the two rows of fasteners in the lap, px. */
const lap = { from: 120, to: 300, rows: [165, 255] as const }
const frames = [120, 420, 720] as const

const rowLength = Math.ceil(demoHoles.length / 2)

const centerOf = (k: number): Point => [
  150 + ((k % rowLength) * 540) / (rowLength - 1),
  lap.rows[k < rowLength ? 0 : 1]
]

const box = (x: number, y: number, w: number, h: number): readonly Point[] => [
  ...([[x, y] as const, [x + w, y] as const] as const),
  ...([[x + w, y + h] as const, [x, y + h] as const] as const)
]

const ink = { tone: 'ink', width: 2 } as const
const faint = { tone: 'soft', width: 1, dash: '8 5' } as const

function marks(): readonly Mark[] {
  const fasteners = demoHoles.map((_, k): Mark => ({ mark: 'circle', at: centerOf(k), radius: 5, stroke: ink }))
  const frameLines = frames.flatMap((x): readonly Mark[] => [
    { mark: 'path', points: box(x - 14, 40, 28, 340), closed: true, stroke: faint },
    {
      mark: 'text',
      at: [x, 32],
      text: `frame ${frames.indexOf(x as 120) + 1}`,
      anchor: 'middle',
      tone: 'soft',
      size: 13
    }
  ])
  return [
    { mark: 'path', points: box(0, 0, width, height), closed: true, fill: 'paper' },
    { mark: 'path', points: box(40, 40, 760, lap.to - 40), closed: true, stroke: ink },
    { mark: 'path', points: box(40, lap.from, 760, 380 - lap.from), closed: true, stroke: ink },
    ...frameLines,
    ...fasteners,
    {
      mark: 'text',
      at: [44, 402],
      text: 'Demonstration panel 1 (invented), seen from outside; not to scale',
      size: 13
    },
    { mark: 'text', at: [796, 402], text: 'forward →', anchor: 'end', size: 13 },
    { mark: 'text', at: [672, 62], text: 'upper sheet', anchor: 'end', tone: 'soft', size: 13 },
    { mark: 'text', at: [672, 372], text: 'lower sheet', anchor: 'end', tone: 'soft', size: 13 }
  ]
}

/** The picture as SVG text, and how the job sheet names it with the holes on it. */
export function demoDrawing(): { readonly text: string; readonly drawing: SheetDrawing } {
  const description = 'Invented panel: a lap of two sheets over three frames, with two rows of fasteners.'
  const places = demoHoles.map(({ id }, k) => {
    const [x, y] = centerOf(k)
    return { name: id, x: x / width, y: y / height, page: 1 }
  })
  return {
    // shown alone, as an image, it takes no font from a page
    text: svg({ width, height, description, marks: marks() }).replace('<svg ', '<svg font-family="sans-serif" '),
    drawing: { file: 'panel.svg', title: 'Panel from outside (invented)', places }
  }
}
