import type { Result } from '../../refusal/index.ts'
import { type NumericsCode, refuse } from '../codes.ts'
import { fisherSurvival, type VarianceRatio } from '../sampling.ts'
import type { Standards } from './inverse.ts'

/** What the readings of like standards scatter by, and whether the curve misses their means by more. */
export interface LackOfFit {
  readonly statistic: number
  readonly dof: VarianceRatio
  /** chance of a statistic as large where the curve is right */
  readonly chance: number
  /** standard deviation of readings of one standard */
  readonly pure: number
}

/**
 * F = [(RSS - SSpe)/(k - p)]/[SSpe/(n - k)] of a fit with p parameters to n readings of k standards, SSpe the sum of
 * squares within standards of equal x.
 * Refuses: numerics/too-few-points (no standard read twice, or not more standards than parameters), numerics/degenerate
 * (readings of each standard all alike). source: draper-smith-1998, 2.1
 */
export function lackOfFit(
  { x, y }: Standards,
  { sigma, dof }: { readonly sigma: number; readonly dof: number }
): Result<LackOfFit, NumericsCode> {
  const groups = new Map<number, number[]>()
  for (let i = 0; i < x.length; i++) groups.set(x[i]!, [...(groups.get(x[i]!) ?? []), y[i]!])
  const above = groups.size - (x.length - dof)
  const below = x.length - groups.size
  if (above < 1 || below < 1) return tooFew(groups.size, x.length)
  const within = [...groups.values()].reduce((sum, readings) => sum + squaresWithin(readings), 0)
  if (within === 0) return alike()
  const statistic = Math.max(0, (sigma * sigma * dof - within) / above) / (within / below)
  const chance = fisherSurvival(statistic, { above, below })
  return { statistic, dof: { above, below }, chance, pure: Math.sqrt(within / below) }
}

function squaresWithin(readings: readonly number[]): number {
  const mean = readings.reduce((sum, y) => sum + y, 0) / readings.length
  return readings.reduce((sum, y) => sum + (y - mean) * (y - mean), 0)
}

function tooFew(standards: number, readings: number): Result<never, NumericsCode> {
  return refuse('numerics/too-few-points', {
    found: `${readings} readings of ${standards} standards`,
    needed: 'more standards than parameters, at least one of them read twice',
    remedy: 'read the standards again, each apart from the last reading of it'
  })
}

function alike(): Result<never, NumericsCode> {
  return refuse('numerics/degenerate', {
    found: 'readings of each standard that are all alike',
    needed: 'readings of one standard that scatter',
    remedy: 'enter each reading as it was taken, none copied and none rounded until they agree'
  })
}
