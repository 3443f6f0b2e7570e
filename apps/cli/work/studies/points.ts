import { isRefusal } from '@trueloop/ground/refusal'
import type { Cells } from '@trueloop/host/table'
import type { HitMissResult, OperatingResult, SignalResult, SweepResult } from '@trueloop/job/prove'

/** A curve as a table: its header first. Sizes in mm, shares as they are, nothing where there is none. */
export type Points = readonly Cells[]

const mm = (size_m: number): number => 1000 * size_m

export const hitPoints = ({ groups }: HitMissResult): Points => [
  ['inspector', 'size_mm', 'share', 'likelihood_lower', 'likelihood_upper', 'curve_lower', 'curve_upper'],
  ...groups.flatMap(({ inspector, curve }) =>
    isRefusal(curve)
      ? []
      : curve.points.map(({ size_m, share, likelihood, covariance }) => [
          ...[inspector, mm(size_m), share, likelihood?.lower, likelihood?.upper, covariance.lower, covariance.upper]
        ])
  )
]

export function signalPoints({ curve, repeated }: SignalResult): Points {
  const groups = [
    ...(curve === undefined || isRefusal(curve) ? [] : [{ inspector: '', points: curve.points }]),
    ...(repeated === undefined || isRefusal(repeated) ? [] : repeated.groups)
  ]
  return [
    ['inspector', 'size_mm', 'share', 'lower', 'upper'],
    ...groups.flatMap(({ inspector, points }) =>
      points.map(({ size_m, share, lower, upper }) => [inspector, mm(size_m), share, lower, upper])
    )
  ]
}

export const sweepPoints = ({ swept }: SweepResult): Points => [
  ['threshold', 'false_calls', 'half_mm', 'asked_mm', 'stated_mm'],
  ...swept.map(({ threshold, falseCalls, sizes }) => {
    if (isRefusal(sizes)) return [threshold, falseCalls, undefined, undefined, undefined]
    const { a50_m, asked_m, stated } = sizes
    return [threshold, falseCalls, mm(a50_m), mm(asked_m), isRefusal(stated) ? undefined : mm(stated)]
  })
]

export const operatingPoints = ({ points }: OperatingResult): Points => [
  ['threshold', 'hits', 'hit_rate', 'hit_lower', 'false_calls', 'false_rate', 'false_upper'],
  ...points.map(({ threshold, hits, hitRate, hitLower, falseCalls, falseRate, falseUpper }) => [
    ...[threshold, hits, hitRate, hitLower, falseCalls, falseRate, falseUpper]
  ])
]
