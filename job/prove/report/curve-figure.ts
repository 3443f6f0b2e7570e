import { axes, type Box, line, type Mark, type Point, place, type Scale, svg, ticks } from '@trueloop/ground/picture'
import type { Block } from '../../record/index.ts'

const box: Box = { x: 54, y: 20, width: 420, height: 240 }

export interface DrawnCurve {
  readonly a50_m: number
  readonly asked_m: number
  readonly points: readonly {
    readonly size_m: number
    readonly share: number
    readonly lower?: number
    readonly upper?: number
  }[]
}

/** Chance of a hit, or of a call, over size, with its one-sided bounds where there are any. */
export function curveFigure({ points, asked_m, a50_m }: DrawnCurve, of: 'hit' | 'call', who = ''): Block {
  const caption = `Chance of a ${of} over size${who === '' ? '' : `, ${who}`}`
  const most = Math.max(...points.map(({ size_m }) => size_m), asked_m)
  const x: Scale = { from: 0, to: 1000 * most, start: box.x, end: box.x + box.width }
  const y: Scale = { from: 0, to: 1, start: box.y + box.height, end: box.y }
  const path = (of: 'share' | 'lower' | 'upper', tone: 'faint' | 'accent'): readonly Mark[] => {
    const drawn = points.flatMap((point): readonly Point[] => {
      const share = point[of]
      return share === undefined ? [] : [[place(x, 1000 * point.size_m), place(y, share)] as const]
    })
    return drawn.length < 2 ? [] : [{ mark: 'path', points: drawn, stroke: { tone, width: 2 } }]
  }
  const upright = place(x, 1000 * asked_m)
  const alt = `${caption}; half at ${(1000 * a50_m).toFixed(2)} mm, the share asked at ${(1000 * asked_m).toFixed(2)} mm. Pale lines: one-sided bounds.`
  return {
    ...{ block: 'figure', width: 'whole', alt, caption },
    svg: svg({
      ...{ width: 500, height: 300, description: alt },
      marks: [
        ...axes(
          box,
          { scale: x, ticks: ticks(0, 1000 * most, 8), label: 'size, mm' },
          { scale: y, ticks: ticks(0, 1, 5), label: `chance of a ${of}` }
        ),
        line([upright, box.y], [upright, box.y + box.height], { tone: 'soft', width: 1, dash: '4 3' }),
        ...path('lower', 'faint'),
        ...path('upper', 'faint'),
        ...path('share', 'accent')
      ]
    })
  }
}
