import { axes, line, type Mark, place, type Scale, svg, ticks } from '@trueloop/ground/picture'
import type { Examination, Indication } from '../../examine/index.ts'
import { halfFrame as box, depthOf, halfSize, reach } from './frame.ts'

/** Matched output at the angle of the peak, one bar a revolution, along the axis; alarm level and threshold drawn. */
export function alongFigure(indication: Indication, examination: Examination): string | undefined {
  const { along, alongFrom } = indication.snippet
  if (along.length === 0) return undefined
  const depth = depthOf(examination)
  const at = (index: number) => (depth === undefined ? alongFrom + index : depth(alongFrom + index) * 1000)
  const { noise } = examination
  const most = 1.15 * reach(1e-9, along, [noise?.alarm ?? 0])
  const x: Scale = { from: at(-1), to: at(along.length), start: box.x, end: box.x + box.width }
  const y: Scale = { from: 0, to: most, start: box.y + box.height, end: box.y }
  const label = depth === undefined ? 'revolution' : 'depth from the entry face, mm'
  return svg({
    ...halfSize,
    description: `Matched output of indication ${indication.id} along the axis, one bar a revolution.`,
    marks: [
      ...along.flatMap((value, index) => bar(x, y, { at: at(index), value })),
      ...(noise === undefined
        ? []
        : [...level(y, noise.alarm, 'alarm level'), ...level(y, noise.threshold, 'threshold')]),
      ...axes(
        box,
        { scale: x, ticks: ticks(x.from, x.to, 5), label },
        { scale: y, ticks: ticks(0, most, 5), label: 'matched output' }
      )
    ]
  })
}

function bar(x: Scale, y: Scale, { at, value }: { readonly at: number; readonly value: number }): readonly Mark[] {
  const foot = place(y, 0)
  const center = place(x, at)
  return [line([center, foot], [center, place(y, Math.abs(value))], { tone: 'accent', width: 5 })]
}

function level(y: Scale, value: number, text: string): readonly Mark[] {
  const at = place(y, value)
  if (!(at >= box.y && at <= box.y + box.height)) return []
  return [
    line([box.x, at], [box.x + box.width, at], { tone: 'ink', width: 1, dash: text === 'threshold' ? '2 3' : '6 3' }),
    { mark: 'text', at: [box.x + box.width - 4, at - 4], text, anchor: 'end', size: 11, tone: 'ink', rim: true }
  ]
}
