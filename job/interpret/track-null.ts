import { type Top, topBetween } from './track-peaks.ts'

/** The plate beside a part lies this far from its half height, in widths of the field: behind its end, before what is next. */
export const BESIDE = { from: 1.2, to: 2.2 } as const
/** Times that the null beside a part and its half height are found one from the other. */
const ROUNDS = 2

/** Elements of a column that stand out one way. */
export interface Span {
  readonly from: number
  readonly to: number
  readonly way: 1 | -1
}

/** And how high they stand. */
export interface Standing extends Span {
  readonly height: number
}

export function standing(
  above: readonly number[],
  { begin, screen, way }: { readonly begin: number; readonly screen: number; readonly way: 1 | -1 }
): readonly Standing[] {
  const spans: Standing[] = []
  for (let i = begin; i < above.length; i++) {
    if (!(above[i]! >= screen)) continue
    let [end, height] = [i + 1, above[i]!]
    for (; end < above.length && above[end]! >= screen; end++) height = Math.max(height, above[end]!)
    spans.push({ from: i, to: end, way, height })
    i = end
  }
  return spans
}

interface Spanned {
  readonly span: Span
  /** others that point the same way: where one lies there is no plate */
  readonly others: readonly Span[]
  readonly field: number
}

export interface SettledTop extends Top {
  /** the null under each element */
  readonly null_: (i: number) => number
}

/** The top of a span above a null that runs straight from the plate just before it to that just behind it. */
export function settledTop(
  y: readonly number[],
  base: readonly number[],
  { span, others, field }: Spanned
): SettledTop {
  let null_ = (i: number): number => base[Math.max(0, Math.min(base.length - 1, Math.round(i)))]!
  let top = topBetween(
    y.map((value, i) => value - null_(i)),
    { ...span, field }
  )
  for (let round = 0; round < ROUNDS && top.level > 0; round++) {
    const line = nullBeside(y, { top, null_, others, field })
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
  const level = (half: number, way: 1 | -1): number | undefined => {
    const near = half + way * BESIDE.from * field
    const far = half + way * BESIDE.to * field
    const [from, to] = [Math.round(Math.min(near, far)), Math.round(Math.max(near, far))]
    const isFree = from >= 0 && to < y.length && !others.some((one) => one.from < to && one.to > from)
    return isFree ? meanBetween(y, from, to) : undefined
  }
  const [before, behind] = [level(top.half.from, -1), level(top.half.to, 1)]
  if (before === undefined && behind === undefined) return null_
  // where something else stands on one side, the plate is taken to be level from the other
  const [a, b] = [before ?? behind!, behind ?? before!]
  const [from, to] = [top.half.from - middle, top.half.to + middle]
  return (i) => a + ((b - a) * (i - from)) / (to - from)
}

export function meanBetween(values: readonly number[], from: number, to: number): number {
  let sum = 0
  for (let i = from; i <= to; i++) sum += values[i]!
  return sum / (to - from + 1)
}
