import type { Added } from '@trueloop/host/chain'
import { replay } from '@trueloop/job/record'
import { chainOfEntries, examined, kept, opened, standardized, whole } from '@trueloop/job/record/testing'
import { describe, expect, it } from 'vitest'
import { verdictOf } from './intake.ts'

/** Oracle: what the zones of an invented examination say. */

const scanned = (zones: typeof whole, reasons: readonly { found: string }[] = []) => {
  const entry = examined('scan', '1', 'ref', { zones })
  const scan = kept('scan', { of: 'hole', name: '1' })
  const entries = [opened('J', ['1']), kept('ref', { of: 'reference' }), standardized('ref'), scan, entry]
  const outcome = {
    ...{ did: 'examined', file: 'scan.wav', of: scan.of, recording: entry.recording, before: false },
    ...{ examination: entry.examination, refusals: [], reasons }
  } as unknown as Added['outcome']
  return verdictOf({ outcome }, replay(chainOfEntries('J', entries)))
}

describe('the verdict on a scan', () => {
  it('is complete where every zone was examined', () =>
    expect(scanned(whole)).toMatchObject({ state: 'complete', why: [] }))

  it('names zones that are not covered together where the reason is the same, and what is told already once', () => {
    const [first, ...rest] = whole
    const gap = { state: 'not examined' as const, covered: 0.426, why: ['the probe turned back'] }
    const zones = [{ ...first!, ...gap }, ...rest.map((zone) => ({ ...zone, ...gap }))]
    const found = `${zones.map(({ zone }) => zone).join(', ')}: 42 % covered (the probe turned back)`
    expect(scanned(zones)).toMatchObject({ state: 'scan again', why: [{ code: 'service/zone-not-covered', found }] })
    const told = scanned(zones, [{ found: 'the probe turned back' }])
    expect(told.why).toHaveLength(1)
    expect(told.state).toBe('scan again')
  })
})
