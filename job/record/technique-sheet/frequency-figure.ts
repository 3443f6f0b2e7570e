import { log10 } from '@trueloop/ground/numerics'
import {
  axes,
  type Box,
  line,
  type Mark,
  type Point,
  place,
  type Scale,
  svg,
  type Tick,
  ticks
} from '@trueloop/ground/picture'
import type { Settings, ZoneSettings } from '../../plan/index.ts'
import type { Block } from '../blocks.ts'
import { halfSize } from '../figures/frame.ts'

const box: Box = { x: 54, y: 32, width: 232, height: 232 }

/** Flaw signal over frequency, and the part of it square to lift-off; the window is the band between the dashed lines. */
export function frequencyFigure(settings: Settings, { zones, frequency: { sweep, window } }: ZoneSettings): Block {
  const where = `${zones.kind === 'corner' ? 'corners' : 'mid-bore'} in ${zones.metal}`
  const most = 1.1 * Math.max(...sweep.map(({ flaw_share }) => 1000 * flaw_share))
  const [first, last] = [sweep[0]!, sweep[sweep.length - 1]!]
  const x: Scale = {
    ...{ from: log10(first.frequency_kHz), to: log10(last.frequency_kHz) },
    ...{ start: box.x, end: box.x + box.width }
  }
  const y: Scale = { from: 0, to: most, start: box.y + box.height, end: box.y }
  const curve = (value: (one: (typeof sweep)[number]) => number): readonly Point[] =>
    sweep.map((one) => [place(x, log10(one.frequency_kHz)), place(y, 1000 * value(one))] as const)
  const upright = (kHz: number, dash: string): Mark => {
    const at = place(x, log10(kHz))
    return line([at, box.y], [at, box.y + box.height], { tone: 'soft', width: 1, dash })
  }
  const ends = window === undefined ? [] : [window.low_kHz, window.high_kHz].map((kHz) => upright(kHz, '4 3'))
  const alt = `Flaw signal over frequency for ${where}: ${window === undefined ? 'no window' : `the window is ${window.low_kHz.toFixed(0)} to ${window.high_kHz.toFixed(0)} kHz`}; the technique has ${settings.frequency_kHz} kHz.`
  return {
    ...{ block: 'figure', width: 'half', alt },
    caption: `Flaw signal over frequency, ${where}`,
    svg: svg({
      ...halfSize,
      description: alt,
      marks: [
        ...axes(
          box,
          { scale: x, ticks: decades(first.frequency_kHz, last.frequency_kHz), label: 'kHz' },
          { scale: y, ticks: ticks(0, most, 5), label: '‰ of coil reactance' }
        ),
        ...ends,
        { mark: 'path', points: curve(({ flaw_share }) => flaw_share), stroke: { tone: 'faint', width: 2.5 } },
        { mark: 'path', points: curve(({ square_share }) => square_share), stroke: { tone: 'accent', width: 2 } },
        upright(settings.frequency_kHz, '1 3'),
        ...legend()
      ]
    })
  }
}

const decades = (from: number, to: number): readonly Tick[] =>
  [10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10_000]
    .filter((kHz) => kHz >= from && kHz <= to)
    .map((kHz) => ({ value: log10(kHz), text: `${kHz}` }))

const legend = (): readonly Mark[] => [
  line([box.x, 10], [box.x + 18, 10], { tone: 'faint', width: 2.5 }),
  { mark: 'text', at: [box.x + 24, 14], text: 'whole', size: 11, tone: 'soft' },
  line([box.x + 80, 10], [box.x + 98, 10], { tone: 'accent', width: 2 }),
  { mark: 'text', at: [box.x + 104, 14], text: 'square to lift-off', size: 11, tone: 'soft' }
]
