import { isRefusal, type Result } from '../../refusal/index.ts'
import { type NumericsCode, refuse } from '../codes.ts'

/** Twice the fall of the goal below its top at t, and its derivative there. */
export interface Fall {
  readonly fall: number
  readonly slope: number
}

export interface Search {
  /** where the fall is nil */
  readonly from: number
  /** first guess of the way to the crossing, with its sign */
  readonly step: number
  readonly criterion: number
  /** a place beyond the crossing, where one is known */
  readonly outer?: number
  readonly at: (t: number) => Result<Fall, NumericsCode>
}

const MOST = 200
/** A step below this share of the way is the last one, and leaves its square. */
const LAST = 1e-7
const ROUNDING = 1e-15

/**
 * The nearest t on the side of `step` where the fall reaches the criterion: Newton steps on the root of the fall, which
 * is nearly straight in t, kept inside a bracket that is widened until it holds the crossing. Refuses:
 * numerics/not-converged, also where the fall never gets there.
 */
export function crossing({ from, step, criterion, at, outer: end }: Search): Result<number, NumericsCode> {
  let inner = from
  let outer = end
  let t = from + step
  const goal = Math.sqrt(criterion)
  for (let i = 0; i < MOST && Number.isFinite(t); i++) {
    const here = at(t)
    if (isRefusal(here)) return here
    const root = Math.sqrt(Math.max(0, here.fall))
    if (root < goal) inner = t
    else outer = t
    const newton = t - ((root - goal) * 2 * root) / here.slope
    const size = Math.abs(newton - t)
    if (size <= LAST * Math.abs(t - from) + ROUNDING * Math.abs(t)) return newton
    t = within(newton, inner, outer) ? newton : fallback({ from, step, inner, outer })
    if (t === inner || t === outer) return t
  }
  return refuse('numerics/not-converged', {
    found: `no place up to ${t} where the likelihood has fallen by the criterion ${criterion}`,
    needed: 'a likelihood that falls that far',
    remedy: 'state no bound; more trials near the rise of the curve would give one'
  })
}

const within = (t: number, inner: number, outer: number | undefined): boolean =>
  outer === undefined ? false : (t - inner) * (outer - t) > 0

const fallback = ({
  from,
  step,
  inner,
  outer
}: {
  readonly from: number
  readonly step: number
  readonly inner: number
  readonly outer: number | undefined
}): number =>
  outer === undefined ? inner + Math.max(1, Math.abs(inner - from) / Math.abs(step)) * step : 0.5 * (inner + outer)
