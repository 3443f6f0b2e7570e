import { axes, type Box, line, type Mark, type Point, place, type Scale, svg, ticks } from '@trueloop/ground/picture'
import type { Block } from '../../../record/index.ts'
import type { CurvePoint, CurveResult } from '../group.ts'

const box: Box = { x: 54, y: 20, width: 420, height: 240 }

/** Chance of a hit over size, with its bounds by the likelihood where there are any. */
export function curveFigure({ points, asked_m, a50_m }: CurveResult, who: string): Block {
  const most = Math.max(...points.map(({ size_m }) => size_m), asked_m)
  const x: Scale = { from: 0, to: 1000 * most, start: box.x, end: box.x + box.width }
  const y: Scale = { from: 0, to: 1, start: box.y + box.height, end: box.y }
  const curve = (value: (point: CurvePoint) => number | undefined): readonly Point[] =>
    points.flatMap((point) => {
      const share = value(point)
      return share === undefined ? [] : [[place(x, 1000 * point.size_m), place(y, share)] as const]
    })
  const path = (list: readonly Point[], tone: 'faint' | 'accent', width: number): readonly Mark[] =>
    list.length < 2 ? [] : [{ mark: 'path', points: list, stroke: { tone, width } }]
  const upright = place(x, 1000 * asked_m)
  const alt = `${who}: chance of a hit over size; half at ${(1000 * a50_m).toFixed(2)} mm, the share asked at ${(1000 * asked_m).toFixed(2)} mm. Pale lines: one-sided bounds.`
  return {
    ...{ block: 'figure', width: 'whole', alt },
    caption: `Chance of a hit over size, ${who}`,
    svg: svg({
      ...{ width: 500, height: 300, description: alt },
      marks: [
        ...axes(
          box,
          { scale: x, ticks: ticks(0, 1000 * most, 8), label: 'size, mm' },
          { scale: y, ticks: ticks(0, 1, 5), label: 'chance of a hit' }
        ),
        line([upright, box.y], [upright, box.y + box.height], { tone: 'soft', width: 1, dash: '4 3' }),
        ...path(
          curve(({ likelihood }) => likelihood?.lower),
          'faint',
          2
        ),
        ...path(
          curve(({ likelihood }) => likelihood?.upper),
          'faint',
          2
        ),
        ...path(
          curve(({ share }) => share),
          'accent',
          2
        )
      ]
    })
  }
}
