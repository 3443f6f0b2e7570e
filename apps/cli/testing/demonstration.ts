import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect } from 'vitest'
import { addressOf } from './browser.ts'
import { type Started, start } from './bundle.ts'

export interface Demonstration {
  /** its data folder */
  folder: string
  /** of the service, with a slash at its end */
  address: string
}

/** The demonstration in a data folder of its own, made and served for the tests of the group that calls this. */
export function servedDemonstration(): Demonstration {
  const served: Demonstration = { folder: '', address: '' }
  let serving: Started
  beforeAll(async () => {
    served.folder = mkdtempSync(join(tmpdir(), 'trueloop-demonstration-'))
    serving = start(served.folder, ['demo', '--port', '0'])
    served.address = await addressOf(serving)
  }, 120_000)
  afterAll(async () => {
    serving.child.kill('SIGINT')
    const { code } = await serving.ended
    rmSync(served.folder, { recursive: true, force: true })
    expect(code).toBe(130)
  })
  return served
}
