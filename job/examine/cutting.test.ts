import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { demoSheet, generate } from '../rehearse/index.ts'
import {
  type Examined,
  examine,
  examinedFrom,
  openedAt,
  type Recorded,
  sceneOf,
  segmentsOf,
  sound
} from './testing/hole.ts'
import { figureOfEight, loopExamined } from './testing/loop.ts'
import { examineTrack, track } from './testing/weld.ts'

/** Everything that an examination says, as text: equal text is equal to the bit. */
const textOf = ({ events, examination }: Examined): string => JSON.stringify({ events, examination })

const lengths = (most: number) => fc.array(fc.integer({ min: 1, max: most }), { minLength: 1, maxLength: 40 })

/** Long enough for both faces, short enough to be cut into single samples. */
function shortHole(): Recorded {
  const scene = sceneOf('hole-P09')
  return generate(
    {
      ...scene,
      hole: { ...scene.hole, grip_m: 4e-3 },
      joints: [],
      flaws: [{ kind: 'crack', depth_m: 8e-4, length_m: 1.2e-3, angle_turn: 0.7, z0_m: 1e-3, z1_m: 2.2e-3 }],
      motion: {
        ...scene.motion,
        feed: { kind: 'constant', pitch_m: 2.5e-4, leadIn_turn: 9, leadOut_turn: 9 }
      }
    },
    5
  )
}

const shortGrip = { hole: { ...demoSheet().holes[0]!, grip_mm: 4, interfaces_mm: [] } }

describe('cutting a recording changes nothing', () => {
  it('of a hole: random cuts, and one sample at a time', () => {
    const recorded = shortHole()
    const whole = examine(recorded, shortGrip, [recorded.x.length])
    expect(whole.examination.indications.length).toBeGreaterThan(0)
    expect(whole.events.length).toBeGreaterThan(3)
    const text = textOf(whole)
    expect(textOf(examine(recorded, shortGrip, [1])) === text).toBe(true)
    fc.assert(
      fc.property(lengths(6000), (cuts) => textOf(examine(recorded, shortGrip, cuts)) === text),
      { numRuns: 12 }
    )
  })

  it('of a hole without index pulses, where turns come from the signal', () => {
    const { index: _, ...recorded } = shortHole()
    const text = textOf(examine(recorded, shortGrip, [recorded.x.length]))
    expect(textOf(examine(recorded, shortGrip, [1])) === text).toBe(true)
    fc.assert(
      fc.property(lengths(6000), (cuts) => textOf(examine(recorded, shortGrip, cuts)) === text),
      { numRuns: 6 }
    )
  })

  it('of a hole with unreadable samples and gaps', () => {
    const recorded = shortHole()
    for (let i = 7000; i < 7100; i++) recorded.x[i] = Number.NaN
    const text = textOf(examine(recorded, shortGrip, [recorded.x.length]))
    fc.assert(
      fc.property(lengths(3000), (cuts) => textOf(examine(recorded, shortGrip, cuts)) === text),
      { numRuns: 6 }
    )
  })

  it('of a track along a weld', () => {
    const recorded = track({ flaws: [{ depth_m: 1e-3, from_m: 0.04, to_m: 0.052 }] }, 3)
    const whole = examineTrack(recorded, {}, [recorded.x.length])
    expect(whole.examination.indications.length).toBe(1)
    const text = textOf(whole)
    expect(textOf(examineTrack(recorded, {}, [1])) === text).toBe(true)
    fc.assert(
      fc.property(lengths(900), (cuts) => textOf(examineTrack(recorded, {}, cuts)) === text),
      { numRuns: 12 }
    )
  })

  it('of a loop', () => {
    const recorded = figureOfEight()
    const text = textOf(sound(loopExamined(recorded, [recorded.x.length])))
    expect(textOf(sound(loopExamined(recorded, [1]))) === text).toBe(true)
    fc.assert(
      fc.property(lengths(400), (cuts) => textOf(sound(loopExamined(recorded, cuts))) === text),
      { numRuns: 30 }
    )
  })
})

describe('columns that are lent from one examination to the next', () => {
  const recorded = shortHole()
  const other = generate(sceneOf('hole-P02'), 1)
  const of = { rate_Hz: recorded.rate_Hz, indexed: true }
  const alone = examine(recorded, shortGrip, [700])
  const text = textOf(alone)

  it('are shared by no two that are open at once', () => {
    const otherText = textOf(examine(other, {}, [5000]))
    let between = 0
    function* interrupted() {
      for (const segment of segmentsOf(recorded, [700])) {
        yield segment
        if (++between % 20 === 7) expect(textOf(examine(other, {}, [5000])) === otherText).toBe(true)
      }
    }
    expect(textOf(sound(examinedFrom(interrupted(), of, shortGrip))) === text).toBe(true)
    expect(between).toBeGreaterThan(20)
  })

  it('are not looked at by what an examination says', () => {
    examine(other, {}, [5000])
    expect(textOf(alone) === text).toBe(true)
  })
})

describe('a live signal', () => {
  it('opens a candidate about a revolution after the probe passed it, two at the most', () => {
    const scene = sceneOf('hole-P02')
    const recorded = generate(scene, 1)
    const perTurn = recorded.rate_Hz / (1200 / 60)
    const first = recorded.index!.findIndex((value) => value > 0.5)
    const late = openedAt(recorded, 16).map(({ ruler, samples }) => (samples - first) / perTurn - ruler)
    expect(late.length).toBeGreaterThan(0)
    expect(Math.max(...late)).toBeLessThan(2)
    expect(Math.min(...late)).toBeLessThan(1.2)
  })
})
