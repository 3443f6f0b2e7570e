import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { FastifyInstance } from 'fastify'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { archiveSource, buildService } from './index.ts'

/** Oracles: what was written into the folder; Content Security Policy Level 3 and RFC 8246 (immutable) for the headers. */

let folder = ''
let service: FastifyInstance
const built = () => join(folder, 'workbench')

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'trueloop-workbench-'))
  service = buildService(archiveSource(join(folder, 'archive')), { workbench: built() })
  writeFileSync(join(folder, 'secret.txt'), 'not for anybody')
})
afterEach(async () => {
  await service.close()
  rmSync(folder, { recursive: true })
})

function make(): void {
  mkdirSync(join(built(), 'assets'), { recursive: true })
  writeFileSync(join(built(), 'index.html'), '<!doctype html><title>workbench</title>')
  writeFileSync(join(built(), 'assets', 'index-Ab3_dE9x.js'), 'export {}')
  writeFileSync(join(built(), 'sound.wav'), 'RIFF')
  symlinkSync(join(folder, 'secret.txt'), join(built(), 'link.txt'))
}

const get = (url: string, host = 'localhost') => service.inject({ url, headers: { host } })

describe('the built workbench', () => {
  it('is the page of every address of a job, and leaves the interface and the report as they are', async () => {
    make()
    for (const url of ['/', '/jobs/J', '/jobs/J/places/hole/P01', '/jobs/J%2F1/queue']) {
      const { statusCode, body, headers } = await get(url)
      expect([statusCode, body, headers['cache-control']]).toEqual([
        200,
        '<!doctype html><title>workbench</title>',
        'no-store'
      ])
      expect(headers['content-security-policy']).toContain(
        "script-src 'self'; style-src 'self'; img-src 'self' blob: data:"
      )
      expect(String(headers['content-security-policy'])).not.toMatch(/unsafe|\*/)
    }
    expect((await get('/api/jobs')).json()).toEqual([])
    expect((await get('/jobs/J/report')).statusCode).toBe(404)
    expect((await get('/', 'evil.example')).statusCode).toBe(421)
  })

  it('has files of which only those with a hash in their name are kept by the browser', async () => {
    make()
    const script = await get('/assets/index-Ab3_dE9x.js')
    expect([script.headers['content-type'], script.headers['cache-control']]).toEqual([
      'text/javascript; charset=utf-8',
      'public, max-age=31536000, immutable'
    ])
    expect((await get('/sound.wav')).headers).toMatchObject({
      'content-type': 'audio/wav',
      'cache-control': 'no-store'
    })
  })

  it('gives nothing that does not lie in its folder as a file', async () => {
    make()
    const up = ['/../secret.txt', '/%2e%2e/secret.txt', '/assets/..%2f..%2fsecret.txt', '/assets/../../secret.txt']
    for (const url of [...up, '/link.txt', '/assets', '/assets/', '//secret.txt', '/..%5csecret.txt', '/none.js'])
      expect((await get(url)).statusCode).toBe(404)
  })

  it('gives way to the pages of the service where it is not built, and comes when it is', async () => {
    expect((await get('/')).body).toContain('No jobs in this archive yet')
    expect((await get('/jobs/J')).statusCode).toBe(404)
    expect((await get('/jobs/J/places')).statusCode).toBe(404)
    make()
    expect((await get('/')).body).toContain('workbench')
  })
})
