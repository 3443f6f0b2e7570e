/**
 * Oracles: the notch itself comes out as it was measured; what only scales and turns an answer (gain, number of turns) drops
 * out; what one factor can't carry over is refused.
 */
import { hertz, meters, radians, siemensPerMeter } from '@trueloop/ground/quantity'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import {
  type CrackAnswer,
  type CrackInPart,
  crackAnswer,
  type MeasuredNotch,
  type ModeledNotch,
  pairAnswer,
  planCrack,
  scaledOnNotch,
  scaleFromNotch
} from './index.ts'

const must = <T>(value: Result<T>): T => {
  if (isRefusal(value)) throw new Error(`${value.code}: ${value.found}`)
  return value
}
const code = (value: unknown): string => (isRefusal(value) ? value.code : 'answered')

// Aluminum at 200 kHz: depth of penetration 0.26 mm, of which 0.3 are 0.077 mm.
const part = (length: number, opening: number, conductivity = 18.97e6): CrackInPart => ({
  crack: { outline: 'rectangle', length: meters(length), depth: meters(0.6e-3), opening: meters(opening) },
  metal: { conductivity: siemensPerMeter(conductivity), permeability: 1 },
  thickness: 'infinite',
  frequency: hertz(2e5),
  cells: { along: 16, deep: 8 }
})
const coilOf = (turns: number) => ({
  coil: { innerRadius: meters(0.3e-3), outerRadius: meters(0.7e-3), length: meters(0.6e-3), turns },
  liftOff: meters(0.15e-3)
})
const along = [0, 0.4e-3].map((place) => ({ across: meters(0), along: meters(place) }))
const answerOf = (given: CrackInPart, turns = 60) => must(crackAnswer(must(planCrack(given)), coilOf(turns), along))
const notch = answerOf(part(1.2e-3, 0.05e-3))
const crack = answerOf(part(0.9e-3, 0))
const measured: MeasuredNotch = {
  name: 'notch 2 of standard 7',
  unit: 'V',
  opening: meters(0.05e-3),
  value: { x: 0.6, y: -0.8 }
}
const scaleOf = (change: Partial<MeasuredNotch>, modeled: ModeledNotch = { answer: notch, place: 1 }) =>
  scaleFromNotch({ ...measured, ...change }, modeled)

describe('scaledOnNotch', () => {
  it('shows the notch as it was measured', () => {
    const { signals, unit } = must(scaledOnNotch(notch, must(scaleOf({}))))
    expect(signals[1]!.x).toBeCloseTo(0.6, 12)
    expect(signals[1]!.y).toBeCloseTo(-0.8, 12)
    expect(unit).toBe('V')
  })
  it('takes size and angle for two columns', () => {
    const polar = must(scaleOf({ value: { size: 1, angle: radians(Math.atan2(-0.8, 0.6)) } }))
    const columns = must(scaleOf({}))
    expect(polar.factor.re / columns.factor.re).toBeCloseTo(1, 12)
    expect(polar.factor.im / columns.factor.im).toBeCloseTo(1, 12)
  })
  it('does not ask how many turns the coil has', () => {
    const [one, ten] = [60, 600].map((turns) => {
      const scale = must(scaleOf({}, { answer: answerOf(part(1.2e-3, 0.05e-3), turns), place: 1 }))
      return must(scaledOnNotch(answerOf(part(0.9e-3, 0), turns), scale)).signals
    })
    ten!.forEach(({ x, y }, at) => {
      expect(x / one![at]!.x).toBeCloseTo(1, 9)
      expect(y / one![at]!.y).toBeCloseTo(1, 9)
    })
  })
  it('of a differential pair from peak to peak', () => {
    const probe = { driver: coilOf(60), pickUps: { ...coilOf(40), turned: radians(0) } }
    const places = [-0.4e-3, 0, 0.4e-3].map((across) => ({ across: meters(across), along: meters(0) }))
    const answer = must(pairAnswer(must(planCrack(part(1.2e-3, 0.05e-3))), probe, places))
    const scale = must(scaleOf({}, { answer, place: 0, less: 2 }))
    const { signals } = must(scaledOnNotch(answer, scale))
    expect(signals[0]!.x - signals[2]!.x).toBeCloseTo(0.6, 9)
    expect(signals[0]!.y - signals[2]!.y).toBeCloseTo(-0.8, 9)
    expect(code(scaleOf({}, { answer, place: 1 }))).toBe('fields/notch-not-seen')
    expect(code(scaleOf({}, { answer, place: 0, less: 0 }))).toBe('fields/notch-not-seen')
  })
  it('says on what it is scaled, and keeps what is not modeled', () => {
    const { statement } = must(scaledOnNotch(crack, must(scaleOf({}))))
    expect(statement.scale).toBe('scaled on notch 2 of standard 7 as measured')
    expect(statement.notModeled).toEqual(crack.statement.notModeled)
    expect(crack.statement.scale).toContain('not scaled')
  })
  it('of a notch in magnetic metal says that its opening is not in its model', () => {
    const steel = { ...part(0.6e-3, 0), metal: { conductivity: siemensPerMeter(1e6), permeability: 20 } }
    const answer: CrackAnswer = answerOf(steel)
    const scale = must(scaleOf({ opening: meters(0.04e-3) }, { answer, place: 1 }))
    const { scale: said, check } = must(scaledOnNotch(answer, scale)).statement
    expect(said).toContain('modeled without its opening')
    expect(check).toContain('no published check')
  })

  it('refuses a notch that the model does not hold for', () => {
    expect(code(scaleOf({}))).toBe('answered')
    expect(code(scaleOf({ opening: meters(0.1e-3) }))).toBe('fields/opening-too-wide')
    expect(code(scaleOf({ opening: meters(0.07e-3) }))).toBe('fields/notch-not-modeled')
    expect(code(scaleOf({}, { answer: crack, place: 1 }))).toBe('fields/notch-not-modeled')
    expect(code(scaleOf({ value: { x: 0, y: 0 } }))).toBe('fields/bad-measurement')
    expect(code(scaleOf({ value: { size: Number.POSITIVE_INFINITY, angle: radians(0) } }))).toBe(
      'fields/bad-measurement'
    )
    expect(code(scaleOf({ opening: meters(-1e-3) }))).toBe('fields/bad-measurement')
    expect(code(scaleOf({}, { answer: notch, place: 2 }))).toBe('fields/bad-place')
  })
  it('refuses an answer of another set-up', () => {
    const scale = must(scaleOf({}))
    const at = (answer: CrackAnswer) => code(scaledOnNotch(answer, scale))
    expect(at(crack)).toBe('answered')
    expect(at(answerOf(part(0.9e-3, 0), 61))).toBe('fields/another-set-up')
    expect(at(answerOf(part(0.9e-3, 0, 17e6)))).toBe('fields/another-set-up')
    expect(at(answerOf({ ...part(0.9e-3, 0), frequency: hertz(3e5) }))).toBe('fields/another-set-up')
  })
})
