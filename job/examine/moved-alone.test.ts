import { readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { beforeAll, describe, expect, it } from 'vitest'
import { cloneRoot } from '../../house/outside.ts'
import { movedAlone, movedAloneRows, type Row } from './testing/moved-alone.ts'

const page = join(cloneRoot, 'docs', 'moved-alone.md')

describe('a part moved alone', () => {
  let rows: readonly Row[] = []

  beforeAll(() => {
    rows = movedAloneRows()
  }, 120_000)

  const row = (name: string): Row => {
    const found = rows.find((one) => one.name === name)
    if (found === undefined) throw new Error(name)
    return found
  }

  it('is examined where nothing moved', () => {
    const { caught, codes } = row('nothing moved')
    expect({ caught, codes }).toEqual({ caught: false, codes: [] })
  })

  it.each([
    ['gain −12 dB', 'examine/contact-differs'],
    ['gain −6 dB', 'examine/contact-differs'],
    ['gain −3 dB', 'examine/contact-differs'],
    ['gain +3 dB', 'examine/contact-differs'],
    ['gain +6 dB', 'examine/contact-differs'],
    ['gain +12 dB', 'examine/contact-differs'],
    ['plane turned −15°', 'examine/contact-differs'],
    ['plane turned +15°', 'examine/contact-differs'],
    ['x dead', 'examine/dead-signal'],
    ['y dead', 'examine/dead-signal'],
    ['x dead, the air step lies on y alone', 'examine/dead-signal'],
    ['y dead, the air step lies on x alone', 'examine/dead-signal'],
    ['x dead, the air step lies on x alone', 'examine/dead-signal'],
    ['in air', 'examine/no-contact'],
    ['one half of the pair open', 'examine/contact-differs']
  ])('%s is caught: %s', (name, code) => {
    const { caught, codes } = row(name)
    expect(caught).toBe(true)
    expect(codes).toContain(code)
  })

  // limits of 15 % and 10°: another fit, tape or edge of a sound hole does as much
  it.each(['gain −1 dB', 'gain +1 dB', 'plane turned −5°', 'plane turned +5°'])('%s can not be caught', (name) => {
    expect(row(name).caught).toBe(false)
  })

  it('withholds sizes and proposals where the scale of the signal is in doubt', () => {
    for (const { caught, examination } of rows) {
      for (const { size, proposal } of examination.indications) {
        expect(size.depth === 'withheld').toBe(caught)
        expect(proposal.startsWith('no proposal')).toBe(caught)
      }
    }
  })

  it('prints the page in docs (UPDATE_DOCS=1 writes it)', () => {
    const text = movedAlone(rows)
    if (process.env.UPDATE_DOCS === '1') writeFileSync(page, text)
    expect(readFileSync(page, 'utf8')).toBe(text)
  })
})
