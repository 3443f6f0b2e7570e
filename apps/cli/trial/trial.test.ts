import type { Examination, Indication } from '@trueloop/job/examine'
import { sheetOf } from '@trueloop/job/plan'
import { describe, expect, it } from 'vitest'
import { callsOf, groundsOf } from './calls.ts'
import { figuresOf, scoreOf } from './score.ts'
import type { TrialSetup } from './setup.ts'
import { trialSheet } from './sheet.ts'
import { truthOfHole } from './truth.ts'

/** An invented set-up in the form of the trial's; no value is taken from it. */
const notch = (place: string, depth_mm: number, z0_mm: number) => ({
  ...{ place, depth_mm, length_mm: depth_mm, angle_deg: 10 * depth_mm, z0_mm, z1_mm: z0_mm + depth_mm }
})

const setup: TrialSetup = {
  ...{ metal: 'm', frequency_khz: 300, source_filter: 'none', rotation_rpm_nominal: 1000, rotation_sense: 'clockwise' },
  ...{ angle_datum: 'index pulse', pitch_mm_per_rev: 0.2, hole_diameter_mm: 5, grip_mm: 8, interfaces_mm: [3] },
  equipment: {
    ...{
      instrument: 'i',
      probe: 'p',
      cable: 'c',
      arrangement: 'differential',
      lobe_spacing_mm: 1,
      drive: 'd',
      gain: 'g'
    }
  },
  technique: {
    confirmed_by: 'nobody real',
    alarm: { notch: 'mid-bore 0.5 mm', share: 0.5 },
    target_flaw_mm: { depth: 0.5, length: 0.7 },
    ...{ max_pitch_mm: 0.4, speed_tolerance: 0.2, min_signal_to_noise: 3, corner_zones_by: 'entry corners' },
    recheck_allowance: { amplitude: 0.1, angle_deg: 5 },
    may_class_by_phase_and_shape: ['scratch']
  },
  reference_standard: {
    ...{ metal: 'm', hole_diameter_mm: 5, thickness_mm: 8, interfaces_mm: [] },
    notches: [
      notch('mid-bore', 0.5, 4),
      notch('mid-bore', 1, 4),
      notch('entry corner', 0.4, 0),
      notch('entry corner', 1, 0)
    ]
  },
  order: ['reference-start', 'hole-01', 'hole-02', 'recheck-1']
}

describe('the sheet of a trial job', () => {
  it('is a sound job sheet with technique and equipment unchanged', () => {
    const fileOf = (name: string) => `${name}.${name === 'hole-02' ? 'csv' : 'wav'}`
    const reading = sheetOf(trialSheet({ name: 't', setup, fileOf }))
    if ('refusals' in reading) throw new Error(JSON.stringify(reading.refusals))
    expect(reading.sheet.technique).toMatchObject({
      alarm: setup.technique.alarm,
      frequency_kHz: 300,
      rotation_rpm: 1000
    })
    expect(reading.sheet.equipment).toMatchObject({ probe: 'p', filters: 'none', gain: 'g' })
    expect(reading.sheet.recordings.map(({ of, columns }) => [of, columns?.x])).toEqual([
      ...[
        ['reference', 0],
        ['hole', 0],
        ['hole', undefined],
        ['recheck', 0]
      ]
    ])
  })
})

const flaw = (z0_mm: number, z1_mm: number) => ({
  ...{ kind: 'crack' as const, depth_mm: 0.6, length_mm: z1_mm - z0_mm, angle_deg: 90, z0_mm, z1_mm }
})

describe('the truth', () => {
  it('places flaws by the faces that they touch, and knows the faults', () => {
    const { flaws, nuisances, fault } = truthOfHole(
      {
        flaws: [flaw(3, 4), flaw(1, 2), flaw(7, 8)],
        fault: 'gain-12dB',
        nonrelevant: { galling: [{ angle: 5, z: 2 }], hum: 1 }
      },
      setup
    )
    expect(flaws.map(({ place }) => place)).toEqual(['corner', 'mid-bore', 'corner'])
    expect(nuisances).toEqual([{ kind: 'galled patch', angle_deg: 5, z0_mm: 2, z1_mm: 2 }, { kind: 'hum' }])
    expect(fault).toBe('gain change')
    expect(() => truthOfHole({ flaws: [], fault: 'new', nonrelevant: {} }, setup)).toThrow('unknown kind')
  })
})

const indication = (change: Partial<Indication>): Indication =>
  ({
    class: 'relevant',
    angle_rad: Math.PI / 2,
    z_m: 0.0015,
    size: { withheld: [], extent_mm: 1.2 },
    ...change
  }) as Indication

const examination = (change: Partial<Examination>): Examination =>
  ({ indications: [], refusals: [], zones: [{ state: 'examined' }], ...change }) as Examination

describe('what an examination says', () => {
  it('becomes calls: relevant, undecided and damage, in degrees and mm', () => {
    const classes = ['relevant', 'undecided', 'damage, not a crack', 'false', 'nonrelevant'] as const
    const calls = callsOf(examination({ indications: classes.map((one) => indication({ class: one })) }))
    expect(calls.map(({ verdict }) => verdict)).toEqual(['relevant', 'undecided', 'damage'])
    expect(calls[0]).toMatchObject({ angle_deg: 90, z_mm: 1.5, size: { kind: 'withheld' }, length_mm: 1.2 })
  })

  it('counts as not examined only where no zone was', () => {
    const refusals = [{ code: 'examine/contact-differs', found: 'size of the step at the entry face: 25 %' }] as never
    expect(groundsOf(examination({ refusals }))).toEqual([])
    expect(groundsOf(examination({ refusals, zones: [{ state: 'not examined' }] as never }))).toEqual(['air step'])
  })
})

describe('the score', () => {
  const outcome = (hole: string, calls: ReturnType<typeof callsOf>) => ({
    ...{ hole, calls, notExamined: [] },
    truth: truthOfHole({ flaws: [flaw(1, 2)], fault: null, nonrelevant: {} }, setup)
  })

  it('adds up jobs, means weighted by what they are the mean of', () => {
    const near = callsOf(examination({ indications: [indication({})] }))
    const far = callsOf(examination({ indications: [indication({ size: { withheld: [], extent_mm: 1.6 } as never })] }))
    const lost = callsOf(examination({ indications: [indication({ angle_rad: 'unknown', z_m: 'unknown' })] }))
    const score = scoreOf([
      { setup, outcomes: [outcome('a', near), outcome('b', near)], voided: ['a'] },
      { setup, outcomes: [outcome('c', far), outcome('d', lost)], voided: [] }
    ])
    const { holes } = figuresOf(score)
    expect(holes).toMatchObject({
      flaws: 4,
      found: 3,
      holes: 4,
      falselyCalledHoles: 1,
      depthMae_mm: null,
      voidedHoles: ['a']
    })
    // lengths called 1.2, 1.2, 1.6 where 1 is true
    expect(holes.lengthMae_mm).toBeCloseTo((0.2 + 0.2 + 0.6) / 3, 12)
  })
})
