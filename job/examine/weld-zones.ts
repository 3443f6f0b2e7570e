import type { Travel } from '../signal/index.ts'
import type { Unusable } from './coverage.ts'
import type { ZoneResult } from './examination.ts'

export interface TrackRun {
  readonly id: string
  readonly length_m: number
  readonly step_m: number
  /** width of the field, m */
  readonly field_m: number
  readonly travel: Travel
  readonly unusable: readonly Unusable[]
}

interface Gap {
  readonly from: number
  readonly to: number
  readonly why: readonly string[]
}

/** Gaps shorter than this share of the field are looked over from beside them. */
const LEAST_GAP = 0.5

/**
 * The stretches of a track, one behind the other: examined, or not examined with every reason. What the run did not reach
 * is a stretch of its own.
 */
export function trackZones(run: TrackRun, refused: readonly string[]): readonly ZoneResult[] {
  const { id, length_m } = run
  const gaps = gapsOf(run)
  if (refused.length > 0) {
    const why = [...refused, ...gaps.flatMap((gap) => gap.why)]
    return [
      { zone: `track ${id}`, z0_m: 0, z1_m: length_m, state: 'not examined', covered: coveredOf(gaps, length_m), why }
    ]
  }
  const pieces = piecesOf(gaps, run)
  if (pieces.length === 1) return [{ ...pieceResult(pieces[0]!), zone: `track ${id}` }]
  return pieces.map((piece) => ({
    ...pieceResult(piece),
    zone: `track ${id}, ${mm(piece.from)} to ${mm(piece.to)} mm`
  }))
}

const mm = (m: number): string => (1e3 * m).toFixed(1)

const coveredOf = (gaps: readonly Gap[], length_m: number): number =>
  Math.max(0, 1 - gaps.reduce((sum, { from, to }) => sum + to - from, 0) / length_m)

const pieceResult = ({ from, to, why }: Gap): Omit<ZoneResult, 'zone'> => ({
  z0_m: from,
  z1_m: to,
  state: why.length === 0 ? 'examined' : 'not examined',
  covered: why.length === 0 ? 1 : 0,
  why
})

/** What is left of a track between gaps; a rest shorter than the field belongs to the gap beside it. */
function piecesOf(gaps: readonly Gap[], { length_m, field_m }: TrackRun): readonly Gap[] {
  const pieces: Gap[] = []
  let at = 0
  for (const gap of gaps) {
    const from = gap.from - at > field_m ? gap.from : at
    if (from > at) pieces.push({ from: at, to: from, why: [] })
    at = length_m - gap.to > field_m ? gap.to : length_m
    pieces.push({ ...gap, from, to: at })
  }
  if (at < length_m || pieces.length === 0) pieces.push({ from: at, to: length_m, why: [] })
  return pieces
}

/** Stretches that don't count, in the order of place, joined where they touch, with all their reasons. */
function gapsOf({ length_m, step_m, field_m, travel, unusable }: TrackRun): readonly Gap[] {
  const place = (point: number) => point * step_m * travel.sense
  const between = (a: number, b: number) => ({
    from: Math.max(0, Math.min(a, b)),
    to: Math.min(length_m, Math.max(a, b))
  })
  const reached = between(place(travel.from), place(travel.to))
  const why = `the run reaches from ${mm(reached.from)} to ${mm(reached.to)} mm of ${mm(length_m)} mm`
  const inner = unusable.flatMap(({ from, to, reason }) => {
    const [a, b] = [Math.max(from, travel.from), Math.min(to, travel.to)]
    if (!(b > a) || (b - a) * step_m <= LEAST_GAP * field_m) return []
    const gap = between(place(a), place(b))
    return gap.to > gap.from ? [{ ...gap, why: [`${reason}, over ${((b - a) * step_m * 1e3).toFixed(1)} mm`] }] : []
  })
  const ends = [
    ...(reached.from > field_m ? [{ from: 0, to: Math.min(reached.from, length_m), why: [why] }] : []),
    ...(length_m - reached.to > field_m ? [{ from: Math.max(0, reached.to), to: length_m, why: [why] }] : [])
  ]
  return joined(
    [...inner, ...ends].sort((a, b) => a.from - b.from),
    field_m
  )
}

function joined(gaps: readonly Gap[], near: number): readonly Gap[] {
  const out: { from: number; to: number; why: string[] }[] = []
  for (const { from, to, why } of gaps) {
    const last = out.at(-1)
    if (last === undefined || from > last.to + near) out.push({ from, to, why: [...why] })
    else {
      last.to = Math.max(last.to, to)
      for (const one of why) if (!last.why.includes(one)) last.why.push(one)
    }
  }
  return out
}
