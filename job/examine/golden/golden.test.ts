import { existsSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { beforeAll, describe, expect, it } from 'vitest'
import { HOLE_METHOD, LOOP_METHOD, WELD_METHOD } from '../index.ts'
import { goldenExaminations } from './run.ts'

/**
 * What was found once must be found again, or the method has another number. A golden file carries the number of the
 * method that made it; UPDATE_GOLDEN=1 writes it anew where that number changed, and only there.
 */
const methods = { hole: HOLE_METHOD, weld: WELD_METHOD, loop: LOOP_METHOD } as const
type Application = keyof typeof methods

interface Golden {
  readonly method: number
  readonly found: unknown
}

const pathOf = (application: Application): string => join(import.meta.dirname, `${application}.expected.json`)

const kept = (application: Application): Golden | undefined =>
  existsSync(pathOf(application)) ? (JSON.parse(readFileSync(pathOf(application), 'utf8')) as Golden) : undefined

/** Whether the kept golden file may be written anew: never for the same method. */
export const mayUpdate = (old: Golden | undefined, method: number): boolean => old?.method !== method

describe('golden examinations', () => {
  let found: Readonly<Record<Application, unknown>>

  beforeAll(() => {
    found = JSON.parse(goldenExaminations()) as typeof found
  })

  it.each(['hole', 'weld', 'loop'] as const)('%s: same method, same findings to the bit', (application) => {
    const method = methods[application]
    if (process.env.UPDATE_GOLDEN === '1' && mayUpdate(kept(application), method)) {
      writeFileSync(pathOf(application), `${JSON.stringify({ method, found: found[application] })}\n`)
    }
    const golden = kept(application)
    expect(golden?.method).toBe(method)
    const same = JSON.stringify(golden?.found) === JSON.stringify(found[application])
    if (!same) expect(found[application]).toEqual(golden?.found)
    expect(same).toBe(true)
  })

  it('hold something to be lost: indications of each kind, drops and a mark filled in', () => {
    const hole = JSON.stringify(found.hole)
    for (const part of [
      '"class":"relevant"',
      '"kind":"withdrawn"',
      'missing index marks filled in',
      '"reason":"spike"'
    ])
      expect(hole).toContain(part)
    expect(JSON.stringify(found.weld)).toContain('"class":"relevant"')
    expect(JSON.stringify(found.loop)).toContain('"class":"undecided"')
  })

  it('a golden file is never written anew for the same method', () => {
    expect(mayUpdate({ method: 3, found: {} }, 3)).toBe(false)
    expect(mayUpdate({ method: 3, found: {} }, 4)).toBe(true)
    expect(mayUpdate(undefined, 1)).toBe(true)
  })
})
