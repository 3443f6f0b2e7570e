import { diskFiles, type Files, type Writing } from '../files.ts'

/** The file operations of the disk, of which the `at`-th (from 0) fails as a full disk does, half of a write done. */
export interface Failing {
  readonly files: Files
  /** steps taken so far, by name */
  readonly steps: string[]
}

const fullDisk = (): Error => Object.assign(new Error('no space left on device'), { code: 'ENOSPC' })

export function failingAt(at: number): Failing {
  const steps: string[] = []
  const step = async <T>(name: string, work: () => Promise<T>, half?: () => Promise<void>): Promise<T> => {
    steps.push(name)
    if (steps.length - 1 !== at) return work()
    await half?.()
    throw fullDisk()
  }
  const writing = (file: Writing): Writing => ({
    write: (bytes) =>
      step(
        'write',
        () => file.write(bytes),
        () => file.write(bytes.subarray(0, bytes.length >> 1))
      ),
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
  return { files, steps }
}
