import { type Stepping, stepping } from './stepping.ts'

const fullDisk = (name: string): Error =>
  Object.assign(new Error('no space left on device'), { code: inDatabase.has(name) ? 'SQLITE_FULL' : 'ENOSPC' })

const inDatabase = new Set(['change', 'commit'])

/** Files and database of the disk, of which the `at`-th step (from 0) fails as a full disk does, half of a write done. */
export function failingAt(at: number): Stepping {
  const fail = (step: number, name: string) => {
    if (step === at) throw fullDisk(name)
  }
  return stepping({ before: (step, name) => (name === 'write' ? undefined : fail(step, name)), half: fail })
}
