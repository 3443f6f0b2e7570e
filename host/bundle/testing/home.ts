import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { type Archive, diskFiles, openArchive } from '../../archive/index.ts'
import { writeWhole } from '../whole-file.ts'
import { writeBundle } from '../write.ts'
import { got } from './small-job.ts'

/** A folder for one test with archives in it; all is closed and removed at its end. */
export interface Home {
  readonly folder: string
  archive(name?: string): Promise<Archive>
  /** exports a job into a file, and gives its bytes */
  exported(archive: Archive, job: string, name?: string): Promise<Buffer>
  path(name: string): string
  written(name: string, bytes: Uint8Array): string
  end(): Promise<void>
}

export function makeHome(): Home {
  const folder = mkdtempSync(join(tmpdir(), 'trueloop-bundle-'))
  const open = new Map<string, Archive>()
  const path = (name: string) => join(folder, name)
  return {
    folder,
    path,
    archive: async (name = 'archive') => {
      const archive = open.get(name) ?? got(await openArchive(path(name)))
      open.set(name, archive)
      return archive
    },
    exported: async (archive, job, name = 'job.zip') => {
      got(await writeWhole({ files: diskFiles, path: path(name) }, (sink) => writeBundle(archive, { job }, sink)))
      return readFileSync(path(name))
    },
    written: (name, bytes) => {
      rmSync(path(name), { force: true })
      writeFileSync(path(name), bytes)
      return path(name)
    },
    end: async () => {
      for (const archive of open.values()) await archive.close()
      rmSync(folder, { recursive: true, force: true })
    }
  }
}
