import { join } from 'node:path'
import { expect, it } from 'vitest'
import { needsOutside } from '../../house/outside.ts'
import { type Call, findsOf, type Ground, type HoleOutcome, score, type TrueFlaw } from '../rehearse/index.ts'
import type { Examination, Indication } from './index.ts'
import { DEG, examine, standardizationFrom } from './testing/hole.ts'
import { holeRecording, type TrialFlaw, type TrialJob, type TrialTruth, trialJob } from './testing/trial.ts'

/** Examinations of the trial's 24 holes against its truth, by the score of job/rehearse. Skipped where it is absent. */

const verdicts: Readonly<Partial<Record<Indication['class'], Call['verdict']>>> = {
  relevant: 'relevant',
  undecided: 'undecided',
  'damage, not a crack': 'damage'
}

const callsOf = ({ indications }: Examination): readonly Call[] =>
  indications.flatMap(({ class: is, angle_rad, z_m, size }) => {
    const verdict = verdicts[is]
    if (verdict === undefined || angle_rad === 'unknown' || z_m === 'unknown') return []
    const bounds = {
      ...(size.lower_mm === undefined ? {} : { least_mm: size.lower_mm }),
      ...(size.upper_mm === undefined ? {} : { most_mm: size.upper_mm })
    }
    return [{ verdict, angle_deg: angle_rad / DEG, z_mm: z_m * 1e3, size: { kind: 'bounds', ...bounds } }]
  })

const groundOf: Readonly<Record<string, Ground>> = {
  'examine/no-contact': 'no contact',
  'examine/contact-differs': 'air step',
  'examine/dead-signal': 'dead channel',
  'examine/clipped': 'clipped',
  'examine/too-noisy': 'noise'
}

const groundsOf = ({ zones, refusals }: Examination): readonly Ground[] =>
  zones.some(({ state }) => state === 'examined') ? [] : refusals.map(({ code }) => groundOf[code] ?? 'other')

function trueFlaw(flaw: TrialFlaw, { hole }: TrialJob): TrueFlaw {
  const faces = [0, ...hole.interfaces_mm, hole.grip_mm]
  const touches = faces.some((face) => Math.min(Math.abs(face - flaw.z0_mm), Math.abs(face - flaw.z1_mm)) < 1e-6)
  return { kind: 'crack', place: touches ? 'corner' : 'mid-bore', ...flaw }
}

/** Names of the trial's nuisances as the score knows them; of the place it needs only what is damage. */
function nuisancesOf({ nonrelevant }: TrialTruth): HoleOutcome['truth']['nuisances'] {
  const scratches = (nonrelevant.scratches ?? []) as readonly { readonly angle: number }[]
  return [
    ...scratches.map(({ angle }) => ({ kind: 'scratch' as const, angle_deg: angle })),
    ...('chatter' in nonrelevant ? [{ kind: 'chatter' as const }] : []),
    ...('galling' in nonrelevant || 'galled' in nonrelevant ? [{ kind: 'galled patch' as const }] : [])
  ]
}

const faultOf = (fault: string | null): HoleOutcome['truth']['fault'] => {
  if (fault === null) return 'none'
  return fault === 'in-air' ? 'in air' : 'gain change'
}

function outcomesOf(folder: string): readonly HoleOutcome[] {
  const job = trialJob(folder)
  const { technique, standard, equipment, rate_Hz } = job
  const standardization = standardizationFrom(holeRecording(folder, 'reference-start', rate_Hz), {
    technique,
    standard,
    equipment
  })
  return Object.entries(job.truth).map(([name, truth]) => {
    const { examination } = examine(holeRecording(folder, name, rate_Hz), {
      technique,
      equipment,
      hole: { ...job.hole, id: name },
      standardization
    })
    return {
      hole: name,
      truth: {
        flaws: truth.flaws.map((flaw) => trueFlaw(flaw, job)),
        nuisances: nuisancesOf(truth),
        fault: faultOf(truth.fault)
      },
      calls: callsOf(examination),
      notExamined: groundsOf(examination)
    }
  })
}

needsOutside('trial', 'trial recordings of holes', (trial) => {
  const jobs = ['al-quarter', 'ti-three-eighths'].map((job) => join(trial, job))
  const ranges = { corner: { least_mm: 0.25, most_mm: 1.5 }, 'mid-bore': { least_mm: 0.25, most_mm: 1.5 } }

  it('found 12 or more of 15, no hole falsely called, both faults caught; every find at its place', () => {
    const outcomes = jobs.map(outcomesOf)
    const scores = outcomes.map((one) => score(one, { ranges }))
    const sum = (of: (one: (typeof scores)[number]) => number) => scores.reduce((total, one) => total + of(one), 0)
    expect(sum(({ flaws }) => flaws)).toBe(15)
    expect(sum(({ holes }) => holes)).toBe(22)
    expect(sum(({ found }) => found)).toBeGreaterThanOrEqual(12)
    expect(scores.flatMap(({ falselyCalled }) => falselyCalled)).toEqual([])
    expect(scores.flatMap(({ soundNotExamined }) => soundNotExamined)).toEqual([])
    expect(sum(({ faultsCaught }) => faultsCaught)).toBe(2)
    for (const { flaw, call } of outcomes.flat().flatMap(findsOf)) {
      const off = call.angle_deg - flaw.angle_deg
      expect(Math.abs(off - 360 * Math.round(off / 360))).toBeLessThan(5)
      expect(Math.abs(call.z_mm - 0.5 * (flaw.z0_mm + flaw.z1_mm))).toBeLessThan(0.4)
    }
  })
})
