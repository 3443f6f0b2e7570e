import type { Refusal } from '@trueloop/ground/refusal'
import { isDay } from '../calendar.ts'
import { refuse } from '../codes.ts'
import { magnetismOf } from '../magnetism.ts'
import type { Hole, HoleSheet } from '../sheet.ts'
import type { Demagnetized } from '../standard.ts'
import { pathText, type Step } from '../where.ts'

/**
 * Ferromagnetic metals of a job on holes: permeability follows heat treatment and what magnetism was left, and the signal
 * follows both, so that the sheet has to say them for the wall and for the reference standard. Welds are left alone: their
 * technique is for carbon steel as it comes.
 */
export const checkMagnetism = (sheet: HoleSheet): readonly Refusal[] => [
  ...needsOf(sheet.reference_standard, { metals: [sheet.reference_standard.metal], steps: ['reference_standard'] }),
  ...demagnetizedDay(sheet, ['reference_standard']),
  ...sheet.holes.flatMap((hole, index) => [
    ...needsOf(hole, { metals: metalsOf(hole, sheet), steps: ['holes', index] }),
    ...demagnetizedDay(sheet, ['holes', index]),
    ...checkTreatment(hole, index, sheet)
  ])
]

const metalsOf = (hole: Hole, { technique }: HoleSheet): readonly string[] => hole.layers ?? [technique.metal]

interface Facts {
  readonly demagnetized?: Demagnetized | undefined
  readonly heat_treatment?: string | readonly string[] | undefined
}

/** A family with members of both kinds is asked as well: "not needed: austenitic" is an answer. */
function needsOf(facts: Facts, { metals, steps }: { readonly metals: readonly string[]; readonly steps: Step[] }) {
  const metal = metals.find((name) => ['ferromagnetic', 'grade decides'].includes(magnetismOf(name)))
  if (metal === undefined) return []
  return (['demagnetized', 'heat_treatment'] as const).flatMap((key) =>
    facts[key] === undefined ? [missing(metal, [...steps, key])] : []
  )
}

function missing(metal: string, steps: readonly Step[]): Refusal {
  const key = String(steps.at(-1))
  const kind = magnetismOf(metal) === 'ferromagnetic' ? 'ferromagnetic' : 'of a family with ferromagnetic members'
  const demagnetized = key === 'demagnetized'
  return refuse('plan/missing-value', {
    found: `${metal}, ${kind}, and nothing at ${pathText(steps)}`,
    needed: demagnetized
      ? 'who demagnetized it and when, or why that is not needed: magnetism that was left moves the signal'
      : 'its heat treatment: permeability, and the signal with it, follows it',
    remedy: demagnetized
      ? 'write demagnetized: { by, on }, or "not needed: " and the reason'
      : 'write the heat treatment as drawing or certificate has it; for several layers a list, one for each',
    where: { path: pathText(steps) }
  })
}

/** The day has to be in the calendar, and not after a recording of the same part. */
function demagnetizedDay(sheet: HoleSheet, steps: readonly ['reference_standard'] | readonly ['holes', number]) {
  const facts = steps[0] === 'holes' ? sheet.holes[steps[1]]! : sheet.reference_standard
  const { demagnetized } = facts
  if (typeof demagnetized !== 'object') return []
  const { on } = demagnetized
  const where = { path: pathText([...steps, 'demagnetized', 'on']) }
  if (!isDay(on))
    return [
      refuse('plan/bad-value', {
        found: `${on}, which no calendar has`,
        needed: 'a day of the calendar',
        remedy: 'correct the day',
        where
      })
    ]
  const before = sheet.recordings.find(
    (recording) =>
      (recording.of === 'hole' ? steps[0] === 'holes' && recording.hole === facts.id : steps[0] !== 'holes') &&
      recording.taken !== undefined &&
      recording.taken.slice(0, 10) < on
  )
  if (before === undefined) return []
  return [
    refuse('plan/dates-out-of-order', {
      found: `demagnetized on ${on}, after the recording ${before.file} was taken`,
      needed: 'demagnetized on or before the day of its recordings',
      remedy: 'correct the day, or take the recording again',
      where
    })
  ]
}

/** A heat treatment that is not the standard's: the standardization doesn't hold for it. One for each layer, or for all. */
function checkTreatment(hole: Hole, index: number, sheet: HoleSheet): readonly Refusal[] {
  const { heat_treatment: treatment } = hole
  const metals = metalsOf(hole, sheet)
  const steps = ['holes', index, 'heat_treatment']
  if (treatment === undefined) return []
  if (typeof treatment !== 'string' && treatment.length !== metals.length) return [uneven(treatment, metals, steps)]
  const { metal: standardMetal, heat_treatment: held } = sheet.reference_standard
  const each = metals.map((_, layer) => (typeof treatment === 'string' ? treatment : treatment[layer]!))
  const other = each.findIndex((one, layer) => same(metals[layer]!, standardMetal) && !same(one, held ?? one))
  if (other < 0) return []
  return [
    refuse('plan/heat-treatment-differs', {
      found: `${metals[other]} ${each[other]} in hole ${hole.id}`,
      needed: `the heat treatment of the reference standard: ${held}`,
      remedy:
        'standardize on a reference standard of that heat treatment, in a job sheet of its own; or correct the one that is wrong',
      where: { path: pathText(typeof treatment === 'string' ? steps : [...steps, other]) }
    })
  ]
}

const plain = (text: string): string => text.trim().toLowerCase().replaceAll(/\s+/g, ' ')
const same = (a: string, b: string): boolean => plain(a) === plain(b)

const uneven = (treatments: readonly string[], metals: readonly string[], steps: readonly Step[]): Refusal =>
  refuse('plan/bad-value', {
    found: `${treatments.length} heat treatments and ${metals.length} layers`,
    needed: 'one for each layer, or one text for all',
    remedy: 'correct layers or heat_treatment',
    where: { path: pathText(steps) }
  })
