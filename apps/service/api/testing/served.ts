import { mkdirSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { type Archive, openPatiently } from '@trueloop/host/archive'
import { got } from '@trueloop/host/chain/testing'
import type { Crew } from '@trueloop/host/crew'
import type { FastifyInstance } from 'fastify'
import { usualLimits } from '../../desk/sessions.ts'
import { archiveSource, buildService, Desk, HeldArchive } from '../../index.ts'

export interface Served {
  readonly folder: string
  /** watched for recordings, where that was asked for */
  readonly watched: string
  readonly archive: HeldArchive
  readonly service: FastifyInstance
  /** the same archive, opened beside the service as another program would */
  withArchive<T>(work: (archive: Archive) => Promise<T>): Promise<T>
  get(url: string, headers?: Readonly<Record<string, string>>): Promise<{ status: number; body: unknown }>
  end(): Promise<void>
}

/** A service over an archive in a folder of its own. */
export function serve({ watch = false, crew }: { readonly watch?: boolean; readonly crew?: Crew } = {}): Served {
  const folder = mkdtempSync(join(tmpdir(), 'trueloop-api-'))
  const place = join(folder, 'archive')
  const archive = new HeldArchive(place)
  const watched = join(folder, 'watched')
  mkdirSync(watched)
  const watching = watch ? { watch: { folder: watched, timing: { look_ms: 50, still_ms: 250 } } } : {}
  const limits = { ...usualLimits, slow_ms: { first: 20, most: 50 } }
  const desk = new Desk({
    home: folder,
    archive,
    limits,
    demonstration: { passphrase: 'invented for a test' },
    ...watching,
    ...(crew === undefined ? {} : { crew })
  })
  const service = buildService(archiveSource(archive), { desk })
  return {
    ...{ folder, watched, archive },
    service,
    withArchive: async (work) => {
      const archive = got(await openPatiently(place))
      return work(archive).finally(() => archive.close())
    },
    get: async (url, headers = {}) => {
      const answer = await service.inject({ url, headers: { host: '127.0.0.1:4270', ...headers } })
      return { status: answer.statusCode, body: JSON.parse(answer.body) }
    },
    end: async () => {
      await service.close()
      rmSync(folder, { recursive: true })
    }
  }
}
