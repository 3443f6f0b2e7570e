import type { Stretch } from './track.ts'
import { type Levels, levelsOf, plateUnder } from './track-levels.ts'
import { BESIDE, meanBetween, type SettledTop, type Span, settledTop, standing } from './track-null.ts'
import type { Top } from './track-peaks.ts'

/** A flaw-like part of a stretch; places as ruler points, levels in units of the alarm slot under the local coating. */
export interface Part {
  readonly stretch: Stretch
  readonly from: number
  readonly to: number
  readonly sense: 1 | -1
  readonly peak: number
  /** how far it stands out at its peak: of the plate beside it, or of what else it lies on */
  readonly level: number
  /** −6 dB points, between ruler points */
  readonly half: { readonly from: number; readonly to: number }
  /** columns from ruler point `drawnFrom` on, the null taken off, in units of the alarm slot; and the coating, mm */
  readonly drawnFrom: number
  readonly x: readonly number[]
  readonly y: readonly number[]
  readonly coating: readonly number[]
  /** how far the signal swings the other way about the null of the stretch, beside it, as a share of how far it swings this way */
  readonly swing: number
  /** whether both of its ends were seen */
  readonly isWhole: boolean
}

export interface PartRule {
  /** width of the field in ruler points */
  readonly field: number
  readonly screen: number
  readonly alarm: number
  readonly least: number
  /** ruler points around a place that count as its surroundings, to each side */
  readonly around: number
  /** ruler points below which nothing but noise is as narrow */
  readonly narrow: number
}

const DRAWN_FIELDS = 4
const MOST_DRAWN = 2048

/** Parts of one stretch that are looked for, the strongest first. */
const MOST_PARTS = 64

/**
 * Parts of a stretch that stand out by `least` from the plate beside them, either way. Where the signal came back, they are
 * looked for from the line between the plate before the stretch and that behind it; where it did not, from its own median.
 * The strongest is taken first and bridged: what it left in the plate under the others is then gone.
 */
export function partsOf(stretch: Stretch, rule: PartRule): readonly Part[] {
  const levels = levelsOf(stretch, stretch.ended === 'back' ? stretch.after : stretch.before)
  const begin = Math.max(0, stretch.from - rule.field - stretch.drawnFrom)
  const parts: Part[] = []
  let y: readonly number[] = levels.y
  const passed: Span[] = []
  for (let k = 0; k < MOST_PARTS; k++) {
    const base = stretch.ended === 'back' ? y.map(() => 0) : plateUnder(y, rule.around)
    const found = strongest(y, base, { begin, rule, passed })
    if (found === undefined) break
    const { top, span, way } = found
    if (isPart(top, rule)) {
      parts.push({
        ...partOf(stretch, { x: levels.x, y, ...found }, rule.field),
        swing: swingOf(levels.y, { half: top.half, way: found.way, field: rule.field })
      })
      y = bridged(y, top.half, BESIDE.from * rule.field)
    } else passed.push({ ...span, way })
  }
  return parts.sort((one, other) => one.from - other.from)
}

interface Looking {
  readonly begin: number
  readonly rule: PartRule
  /** spans that were looked at and were none */
  readonly passed: readonly Span[]
}

interface Found {
  readonly top: SettledTop
  readonly span: Span
  readonly way: 1 | -1
}

/** The span that stands highest, either way, with its top. */
function strongest(y: readonly number[], base: readonly number[], { begin, rule, passed }: Looking): Found | undefined {
  const spans = ([1, -1] as const).flatMap((way) =>
    standing(
      y.map((level, i) => way * (level - base[i]!)),
      { begin, screen: rule.screen, way }
    )
  )
  const open = spans.filter(
    (one) => !passed.some((was) => was.way === one.way && was.from < one.to && was.to > one.from)
  )
  const first = open[0]
  if (first === undefined) return undefined
  const span = open.reduce((best, one) => (one.height > best.height ? one : best), first)
  const { way } = span
  const others = spans.filter((one) => one !== span && one.way === way)
  const top = settledTop(
    y.map((level) => way * level),
    base.map((level) => way * level),
    { span, others, field: rule.field }
  )
  return { top, span, way }
}

/** A column with a straight line where a part stands. */
export function bridged(
  y: readonly number[],
  half: { readonly from: number; readonly to: number },
  margin: number
): readonly number[] {
  const out = [...y]
  const from = Math.max(0, Math.floor(half.from - margin))
  const to = Math.min(y.length - 1, Math.ceil(half.to + margin))
  for (let i = from + 1; i < to; i++) out[i] = y[from]! + ((y[to]! - y[from]!) * (i - from)) / (to - from)
  return out
}

const isPart = ({ level, half }: SettledTop, { alarm, least, narrow }: PartRule): boolean =>
  level >= alarm || (level >= least && half.to - half.from >= narrow)

interface Swinging {
  readonly half: Top['half']
  readonly way: 1 | -1
  readonly field: number
}

function swingOf(y: readonly number[], { half, way, field }: Swinging): number {
  const from = Math.max(0, Math.floor(half.from) - DRAWN_FIELDS * field)
  let [this_, other] = [0, 0]
  for (const value of y.slice(from, Math.ceil(half.to) + DRAWN_FIELDS * field)) {
    this_ = Math.max(this_, way * value)
    other = Math.max(other, -way * value)
  }
  return this_ > 0 ? other / this_ : 0
}

function partOf(stretch: Stretch, { x, y, top, span, way }: Levels & Found, field: number): Omit<Part, 'swing'> {
  const a = Math.max(0, Math.floor(top.half.from) - DRAWN_FIELDS * field)
  const b = Math.min(y.length, Math.ceil(top.half.to) + DRAWN_FIELDS * field)
  const beside = meanBetween(x, Math.max(0, a), Math.max(0, Math.floor(top.half.from) - field))
  const { drawnFrom } = stretch
  return {
    stretch,
    from: drawnFrom + span.from,
    to: drawnFrom + span.to - 1,
    sense: way === 1 ? stretch.sense : stretch.sense === 1 ? -1 : 1,
    peak: drawnFrom + top.peak,
    level: top.level,
    half: { from: drawnFrom + top.half.from, to: drawnFrom + top.half.to },
    drawnFrom: drawnFrom + a,
    x: x.slice(a, b).map((value) => way * (value - (Number.isFinite(beside) ? beside : 0))),
    y: y.slice(a, b).map((value, i) => way * value - top.null_(a + i)),
    coating: stretch.coating.slice(a, b),
    isWhole: true
  }
}

/** The beginning of a stretch as it is drawn: null off, upward, in units of the alarm slot. */
export function drawnOf(stretch: Stretch): Pick<Part, 'x' | 'y' | 'coating' | 'drawnFrom'> {
  const { x, y } = levelsOf(stretch, stretch.before)
  const some = (column: readonly number[]) => column.slice(0, MOST_DRAWN)
  return { x: some(x), y: some(y), coating: some(stretch.coating), drawnFrom: stretch.drawnFrom }
}
