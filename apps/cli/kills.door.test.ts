import { describe, expect, it } from 'vitest'
import { bundle } from './testing/bundle.ts'
import { killAtRandom } from './testing/kills.ts'

/**
 * Oracles: the record of the same command undisturbed; SHA-256 of Node. `npm run long -- kills` does it 200 times.
 */
describe('the command that examines', () => {
  it('killed at 20 random moments has lost nothing, left nothing half, and goes on to the same record', async () => {
    const { broken, kills, finished } = await killAtRandom({ program: bundle, kills: 20, seed: 'kills by the door' })
    expect(broken).toEqual([])
    expect({ kills, finished: finished > 0 }).toEqual({ kills: 20, finished: true })
  }, 300_000)
})
