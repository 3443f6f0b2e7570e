/** Oracle: the rule as it is stated; moments written out by hand. */
import { isRefusal } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import { clockComplaint } from './clock.ts'
import type { Moment } from './kinds/parts.ts'

const mine = (time: string): Moment => ({ time, known: 'clock of this computer' })
const said = (before: Moment | undefined, now: Moment) => {
  const no = clockComplaint(before, now)
  return isRefusal(no) ? no.code : 'let through'
}

describe('a clock that was set back', () => {
  it.each([
    ['a day', '2026-03-13T09:00:00Z'],
    ['three seconds', '2026-03-14T08:59:57.000Z'],
    ['an hour, written in another zone', '2026-03-14T09:00:00+01:00']
  ])('by %s is refused', (_, now) =>
    expect(said(mine('2026-03-14T09:00:00Z'), mine(now))).toBe('record/clock-set-back')
  )

  it.each([
    ['that stands', '2026-03-14T09:00:00Z'],
    ['that a service kept right', '2026-03-14T08:59:59.2Z'],
    ['that ran on, in another zone', '2026-03-14T10:00:01+01:00']
  ])('is not one %s', (_, now) => expect(said(mine('2026-03-14T09:00:00Z'), mine(now))).toBe('let through'))

  it('is not told by other witnesses, nor where there is nothing before', () => {
    const sheet: Moment = { time: '2026-03-13T09:00:00Z', known: 'job sheet' }
    expect(said(mine('2026-03-14T09:00:00Z'), sheet)).toBe('let through')
    expect(said({ ...sheet, time: '2027-01-01T00:00:00Z' }, mine('2026-03-14T09:00:00Z'))).toBe('let through')
    expect(said(undefined, mine('2026-03-14T09:00:00Z'))).toBe('let through')
    expect(said(mine('2026-03-14T09:00:00'), mine('2026-03-14T08:00:00Z'))).toBe('let through')
  })
})
