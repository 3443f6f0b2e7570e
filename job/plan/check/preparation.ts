import type { Refusal } from '@trueloop/ground/refusal'
import { isDay } from '../calendar.ts'
import { refuse } from '../codes.ts'
import { measuredOf } from '../preparation.ts'
import type { Hole, HoleSheet } from '../sheet.ts'
import { pathText } from '../where.ts'

/**
 * Preparation of holes: a measurement is whole or not there, its figures can be true together, its days are days, and a
 * loss that is allowed can be computed.
 */
export const checkPreparation = (sheet: HoleSheet): readonly Refusal[] => [
  ...sheet.holes.flatMap((hole, index) => [...half(hole, index), ...days(hole, index), ...diameters(hole, index)]),
  ...limit(sheet)
]

const keys = ['measured_diameter_mm', 'out_of_round_mm', 'gauge', 'gauge_uncertainty_mm', 'measured'] as const

const needs: Readonly<Record<(typeof keys)[number], string>> = {
  measured_diameter_mm: 'the largest diameter that it showed',
  out_of_round_mm: 'the largest diameter less the smallest; 0 where none was found',
  gauge: 'the gauge by name and number: a diameter that nobody can check is none',
  gauge_uncertainty_mm: 'how far a diameter of this gauge may be off; it has no value of its own',
  measured: 'who measured it and when'
}

const at = (index: number, ...steps: readonly string[]) => ({
  path: pathText(['holes', index, 'preparation', ...steps])
})

/** A diameter without gauge, doubt or name is no measurement, nor are these without a diameter. */
function half({ id, preparation }: Hole, index: number): readonly Refusal[] {
  if (preparation === undefined) return []
  const there = keys.filter((key) => preparation[key] !== undefined)
  if (there.length === 0) return []
  return keys
    .filter((key) => preparation[key] === undefined)
    .map((key) =>
      refuse('plan/missing-value', {
        found: `a measurement of hole ${id} (${there.join(', ')}) without ${key}`,
        needed: needs[key],
        remedy: `write ${key}, or leave out the whole measurement`,
        where: at(index, key)
      })
    )
}

function days({ preparation }: Hole, index: number): readonly Refusal[] {
  return (['cleaned', 'measured'] as const).flatMap((key) => {
    const day = preparation?.[key]?.on
    if (day === undefined || isDay(day)) return []
    return [
      refuse('plan/bad-value', {
        found: `${day}, which no calendar has`,
        needed: 'a day of the calendar',
        remedy: 'correct the day',
        where: at(index, key, 'on')
      })
    ]
  })
}

/** Figures carry the rounding of a sum of decimals. */
const ROUNDING_mm = 1e-9

/** A hole is not smaller than its drawing by more than the gauge may be off: neither at its widest nor at its narrowest. */
function diameters({ id, diameter_mm: nominal, preparation }: Hole, index: number): readonly Refusal[] {
  const measured = measuredOf(preparation)
  if (measured === undefined) return []
  const { measured_diameter_mm: largest, out_of_round_mm: outOfRound, gauge, gauge_uncertainty_mm: doubt } = measured
  const least = nominal - doubt - ROUNDING_mm
  if (largest < least)
    return [
      refuse('plan/bad-value', {
        found: `a diameter of ${largest} mm at most for hole ${id} of ${nominal} mm`,
        needed: `${nominal} mm or more, as far as ${gauge} knows it: ± ${doubt} mm`,
        remedy: 'measure it again, or correct the diameter of the drawing',
        where: at(index, 'measured_diameter_mm')
      })
    ]
  if (largest - outOfRound >= least) return []
  return [
    refuse('plan/bad-value', {
      found: `${outOfRound} mm out of round at ${largest} mm at most: ${shown(largest - outOfRound)} mm at its narrowest`,
      needed: `at most ${shown(largest - nominal + doubt)} mm: a hole of ${nominal} mm is not narrower, as far as ${gauge} knows it`,
      remedy: 'measure it again: out of round is the largest diameter less the smallest',
      where: at(index, 'out_of_round_mm')
    })
  ]
}

const shown = (mm: number): string => String(Math.round(mm * 1e6) / 1e6)

/** One limit, of one kind: a loss that can be computed, which takes the coil, or what an oversize hole has shown. */
function limit({ technique: { oversize, probe } }: HoleSheet): readonly Refusal[] {
  if (oversize === undefined) return []
  const { max_loss_dB: loss, shown_harmless_to_mm: harmless, source } = oversize
  if ((loss === undefined) === (harmless === undefined)) return [notOne(loss !== undefined)]
  if (harmless !== undefined && source === undefined) return [unshown(harmless)]
  return loss === undefined || probe !== undefined ? [] : [withoutCoil(loss)]
}

const notOne = (both: boolean): Refusal =>
  refuse('plan/bad-value', {
    found: both ? 'a largest loss and a harmless difference' : 'neither a largest loss nor a harmless difference',
    needed: 'max_loss_dB, or shown_harmless_to_mm with its source: one of them, as the procedure states it',
    remedy: 'write the one that the procedure has; without technique.oversize no hole may be wider than the standard',
    where: { path: 'technique.oversize' }
  })

const unshown = (harmless: number): Refusal =>
  refuse('plan/missing-value', {
    found: `a difference of ${harmless} mm that is harmless, and not who says so`,
    needed: 'the oversize reference hole that has shown it',
    remedy: 'write its source: serial number, record or report',
    where: { path: 'technique.oversize.source' }
  })

const withoutCoil = (loss: number): Refusal =>
  refuse('plan/missing-value', {
    found: `a loss of ${loss} dB that is allowed, and nothing of the coil that it depends on`,
    needed: 'the mean radius of the coil, and whether the probe follows the wall',
    remedy: 'write technique.probe: { mean_coil_radius_mm, fit }',
    where: { path: 'technique.probe' }
  })
