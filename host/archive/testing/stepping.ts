import { diskFiles, type Files, type Writing } from '../files.ts'
import type { Writes } from '../statements.ts'

/** What is done when the archive comes to a step, by its number from 0: to throw, or to end the process. */
export interface Around {
  readonly before?: (at: number, name: string) => void
  /** a write of which half is done */
  readonly half?: (at: number, name: string) => void
  readonly after?: (at: number, name: string) => void
}

/** Files and database of the disk, each step of which can be stopped. */
export interface Stepping {
  readonly files: Files
  readonly writes: Writes
  /** steps taken so far, by name */
  readonly steps: string[]
}

export function stepping({ before, half, after }: Around): Stepping {
  const steps: string[] = []
  const begin = (name: string): number => {
    const at = steps.push(name) - 1
    before?.(at, name)
    return at
  }
  const step = async <T>(name: string, work: (at: number) => Promise<T>): Promise<T> => {
    const at = begin(name)
    const done = await work(at)
    after?.(at, name)
    return done
  }
  const change =
    (name: string) =>
    <T>(work: () => T): T => {
      const at = begin(name)
      const done = work()
      after?.(at, name)
      return done
    }
  const writing = (file: Writing): Writing => ({
    write: (bytes) =>
      step('write', async (at) => {
        await file.write(bytes.subarray(0, bytes.length >> 1))
        half?.(at, 'write')
        await file.write(bytes.subarray(bytes.length >> 1))
      }),
    sync: () => step('sync', () => file.sync()),
    close: () => file.close()
  })
  const files: Files = {
    ...diskFiles,
    makeFolder: (path) => step('makeFolder', () => diskFiles.makeFolder(path)),
    create: (path) => step('create', async () => writing(await diskFiles.create(path))),
    rename: (from, to) => step('rename', () => diskFiles.rename(from, to)),
    remove: (path) => step('remove', () => diskFiles.remove(path)),
    syncFolder: (path) => step('syncFolder', () => diskFiles.syncFolder(path))
  }
  return { files, writes: { change: change('change'), commit: change('commit') }, steps }
}
