import type { Stretch } from './track.ts'
import { type Levels, levelsOf, surroundings } from './track-levels.ts'
import { type Top, topBetween } from './track-peaks.ts'

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
}

const DRAWN_FIELDS = 4
const MOST_DRAWN = 2048
/** The plate beside a part lies this far from its half height, in widths of the field: behind its end, before what is next. */
const BESIDE = { from: 1.2, to: 2.2 } as const
/** Times that the null beside a part and its half height are found one from the other. */
const ROUNDS = 2

/**
 * Parts of a stretch that stand out by `least` above the plate beside them. Where the signal came back, they are looked for
 * above the line from the plate before the stretch to that behind it; where it did not, above their surroundings.
 */
export function partsOf(stretch: Stretch, rule: PartRule): readonly Part[] {
  const levels = levelsOf(stretch, stretch.ended === 'back' ? stretch.after : stretch.before)
  const base = stretch.ended === 'back' ? levels.y.map(() => 0) : surroundings(levels.y, rule.around)
  const begin = Math.max(0, stretch.from - rule.field - stretch.drawnFrom)
  const spans = standing(
    levels.y.map((level, i) => level - base[i]!),
    { begin, screen: rule.screen }
  )
  const tops = spans.map((span) => settledTop(levels.y, base, { span, spans, field: rule.field }))
  return tops.flatMap((top, k) =>
    top.level >= Math.min(rule.alarm, rule.least)
      ? [partOf(stretch, { ...levels, top, span: spans[k]! }, rule.field)]
      : []
  )
}

interface Span {
  readonly from: number
  readonly to: number
}

function standing(
  above: readonly number[],
  { begin, screen }: { readonly begin: number; readonly screen: number }
): readonly Span[] {
  const spans: Span[] = []
  for (let i = begin; i < above.length; i++) {
    if (!(above[i]! >= screen)) continue
    let end = i + 1
    while (end < above.length && above[end]! >= screen) end++
    spans.push({ from: i, to: end })
    i = end
  }
  return spans
}

interface Spanned {
  readonly span: Span
  readonly spans: readonly Span[]
  readonly field: number
}

interface SettledTop extends Top {
  /** the null under each element */
  readonly null_: (i: number) => number
}

/** The top of a span above a null that runs straight from the plate just before it to that just behind it. */
function settledTop(y: readonly number[], base: readonly number[], { span, spans, field }: Spanned): SettledTop {
  let null_ = (i: number): number => base[Math.max(0, Math.min(base.length - 1, Math.round(i)))]!
  let top = topBetween(
    y.map((value, i) => value - null_(i)),
    { ...span, field }
  )
  for (let round = 0; round < ROUNDS && top.level > 0; round++) {
    const line = nullBeside(y, { top, null_, others: spans.filter((one) => one !== span), field })
    null_ = line
    top = topBetween(
      y.map((value, i) => value - line(i)),
      { ...span, field }
    )
  }
  return { ...top, null_ }
}

interface Beside {
  readonly top: Top
  readonly null_: (i: number) => number
  readonly others: readonly Span[]
  readonly field: number
}

function nullBeside(y: readonly number[], { top, null_, others, field }: Beside): (i: number) => number {
  const middle = 0.5 * (BESIDE.from + BESIDE.to) * field
  const level = (half: number, way: 1 | -1): { readonly at: number; readonly of: number } => {
    const near = half + way * BESIDE.from * field
    const far = half + way * BESIDE.to * field
    const [from, to] = [Math.round(Math.min(near, far)), Math.round(Math.max(near, far))]
    const at = half + way * middle
    const isFree = from >= 0 && to < y.length && !others.some((one) => one.from < to && one.to > from)
    return { at, of: isFree ? meanBetween(y, from, to) : null_(half + way * field) }
  }
  const [a, b] = [level(top.half.from, -1), level(top.half.to, 1)]
  return (i) => a.of + ((b.of - a.of) * (i - a.at)) / (b.at - a.at)
}

function meanBetween(values: readonly number[], from: number, to: number): number {
  let sum = 0
  for (let i = from; i <= to; i++) sum += values[i]!
  return sum / (to - from + 1)
}

function partOf(
  stretch: Stretch,
  { x, y, top, span }: Levels & { readonly top: SettledTop; readonly span: Span },
  field: number
): Part {
  const a = Math.max(0, Math.floor(top.half.from) - DRAWN_FIELDS * field)
  const b = Math.min(y.length, Math.ceil(top.half.to) + DRAWN_FIELDS * field)
  const beside = meanBetween(x, Math.max(0, a), Math.max(0, Math.floor(top.half.from) - field))
  const { drawnFrom } = stretch
  return {
    stretch,
    from: drawnFrom + span.from,
    to: drawnFrom + span.to - 1,
    sense: stretch.sense,
    peak: drawnFrom + top.peak,
    level: top.level,
    half: { from: drawnFrom + top.half.from, to: drawnFrom + top.half.to },
    drawnFrom: drawnFrom + a,
    x: x.slice(a, b).map((value) => value - (Number.isFinite(beside) ? beside : 0)),
    y: y.slice(a, b).map((value, i) => value - top.null_(a + i)),
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
