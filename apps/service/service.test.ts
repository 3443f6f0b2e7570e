import { createServer } from 'node:net'
import type { Refusal } from '@trueloop/ground/refusal'
import type { JobSummary, PlaceRow } from '@trueloop/host/chain'
import { afterEach, describe, expect, it } from 'vitest'
import { buildService, listenFrom, type RecordSource } from './index.ts'
import { isLoopbackName } from './loopback.ts'
import { themes } from './style.ts'

const place = (name: string, change: Partial<PlaceRow> = {}): PlaceRow => ({
  ...{ of: 'hole', name, state: 'examined, no relevant indication', provisional: false },
  ...{ zonesExamined: 6, zones: 6, relevant: 0, undecided: 0, aboveAlarm: 0, why: [], open: [] },
  ...change
})

const summary: JobSummary = {
  ...{
    job: 'J/1 <b>',
    component: 'spar & rib',
    demonstration: true,
    confirmed: 'confirmed by B',
    setUpUnknown: ['gain']
  },
  places: [
    place('W-01'),
    place('W-02', { state: 'not examined', zonesExamined: 0, why: ['no step between air and metal'] }),
    place('W-03', { state: 'relevant, not decided', relevant: 1, aboveAlarm: 1 }),
    place('W-04', { state: 'undecided', undecided: 1, open: ['W-04/1, false: not scanned again after cleaning'] }),
    place('W-05', { state: 'voided by a recheck', why: ['the recheck after it failed'] })
  ],
  counts: [{ state: 'not examined', count: 1 }],
  drawings: [],
  rechecks: [{ file: 'recheck-1.wav', passed: false, voids: ['W-05'] }],
  unjudged: ['recheck-2.wav'],
  counted: { listed: 6, scanned: 5, without: ['W-06'] },
  redo: [{ place: 'W-05', files: ['w-05.wav'], why: ['the recheck after it failed'] }],
  nonconformances: [
    {
      ...{ place: 'W-05', had: 'been closed', at: '2026-03-14', examinedAgain: false },
      why: ['the recheck after it failed']
    }
  ],
  ...{ waiting: true, entries: 42, head: 'f'.repeat(64) }
}

const locked: Refusal = {
  refused: true,
  code: 'archive/locked',
  ...{ found: 'another program', needed: 'the archive alone', remedy: 'end the other' }
}

const source: RecordSource = {
  jobs: async () => [summary],
  job: async (id) => [summary, mixed].find(({ job }) => job === id) ?? (id === 'locked' ? locked : undefined),
  place: async () => undefined,
  ...{ examination: async () => undefined, wall: async () => undefined, preview: async () => undefined },
  ...{ document: async () => undefined, recording: async () => undefined, drawing: async () => undefined },
  report: async (id) => (id === summary.job ? '<!doctype html><title>report</title>' : undefined)
}

const mixed: JobSummary = { ...summary, job: 'mixed', practice: { count: 2, marked: false } }
const service = buildService(source)
const get = (url: string, host = '127.0.0.1:4270') => service.inject({ url, headers: { host } })
const path = `/jobs/${encodeURIComponent(summary.job)}`

describe('pages', () => {
  it('say first that practice is among the places as long as it is not marked', async () => {
    expect((await get('/jobs/mixed')).body).toContain('2 of these places are practice and not marked yet')
    expect((await get(path)).body.includes('practice')).toBe(false)
  })

  it('list the jobs and show one, what was not examined before all places', async () => {
    const jobs = await get('/')
    expect(jobs.body).toContain(`href="${path}"`)
    const { body, statusCode } = await get(path)
    expect(statusCode).toBe(200)
    expect(body.indexOf('no step between air and metal')).toBeLessThan(body.indexOf('All places'))
    expect(body).toContain('never to be signed off')
    expect(body).toContain('<h2>Open</h2>')
    expect(body).toContain('W-04/1, false: not scanned again after cleaning')
    expect(body.indexOf('W-04/1')).toBeLessThan(body.indexOf('All places'))
  })

  it('say what had left the hands before all else, and what has to be done again', async () => {
    const { body } = await get(path)
    expect(body).toContain('<b>W-05</b> had been closed (2026-03-14)')
    expect(body.indexOf('Nonconformances')).toBeLessThan(body.indexOf('Not examined, or voided'))
    expect(body).toContain('<b>W-05</b> (w-05.wav): the recheck after it failed')
    expect(body).toContain('Scanned: 5 of 6 on the list; no scan of W-06.')
  })

  it('escape what comes from the record', async () => {
    const { body } = await get(path)
    expect(body).toContain('J/1 &lt;b&gt;')
    expect(body).toContain('spar &amp; rib')
    expect(body).not.toContain('<b>J')
  })

  it('name every state beside its mark, and give every state a mark of its own', async () => {
    const { body } = await get(path)
    const marks = [...body.matchAll(/<svg class="mark"[^>]*aria-label="([^"]+)">(.*?)<\/svg>/g)]
    expect(marks.map(([, label]) => label)).toEqual(summary.places.map(({ state }) => state))
    expect(new Set(marks.map(([, , shape]) => shape)).size).toBe(5)
  })

  it('give the report a policy of its own: nothing runs', async () => {
    const { headers, body } = await get(`${path}/report`)
    expect(body).toContain('<title>report</title>')
    expect(headers['content-security-policy']).toMatch(/^default-src 'none'; style-src 'unsafe-inline'; img-src data:/)
  })

  it('say that there is nothing, or what is in the way', async () => {
    expect((await get('/nowhere')).statusCode).toBe(404)
    expect((await get('/jobs/other')).statusCode).toBe(404)
    const { statusCode, body } = await get('/jobs/locked')
    expect(statusCode).toBe(503)
    expect(body).toContain('end the other')
  })

  it('have an icon', async () => {
    for (const url of ['/favicon.svg', '/favicon.ico'])
      expect((await get(url)).headers['content-type']).toBe('image/svg+xml')
  })
})

describe('the door', () => {
  it('answers to loopback names only', async () => {
    for (const host of ['evil.example', '127.0.0.1.evil.example', 'localhost.evil.example:4270', '10.0.0.1'])
      expect((await get('/', host)).statusCode).toBe(421)
    expect(['127.0.0.1', '127.0.0.1:80', 'localhost:4270', '[::1]:9'].every(isLoopbackName)).toBe(true)
    expect([undefined, '', 'localhost:x', 'xlocalhost'].some(isLoopbackName)).toBe(false)
  })

  it('sends strict headers with everything', async () => {
    for (const url of ['/', path, '/nowhere', '/style.css']) {
      const { headers } = await get(url)
      expect(headers['content-security-policy']).toMatch(/^default-src 'none';/)
      expect(headers['x-content-type-options']).toBe('nosniff')
      expect(headers['cache-control']).toBe('no-store')
    }
  })

  it('takes nothing', async () => {
    for (const method of ['POST', 'PUT', 'DELETE'] as const)
      expect((await service.inject({ method, url: '/', headers: { host: 'localhost' } })).statusCode).toBe(404)
  })

  const open: { close(): unknown }[] = []
  afterEach(async () => {
    for (const one of open.splice(0)) await one.close()
  })

  it('moves on from a taken port', async () => {
    const taken = createServer()
    open.push(taken)
    await new Promise<void>((resolve) => void taken.listen(0, '127.0.0.1', resolve))
    const { port } = taken.address() as { port: number }
    const other = buildService(source)
    open.push(other)
    const address = await listenFrom(other, port)
    expect(address).toMatch(/^http:\/\/127\.0\.0\.1:\d+$/)
    expect(Number(address.split(':').at(-1))).not.toBe(port)
  })
})

describe('colors', () => {
  // WCAG 2.2: relative luminance and contrast ratio, as its glossary defines them
  const channel = (v: number): number => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4)
  const luminance = (color: string): number => {
    const [r, g, b] = [1, 3, 5].map((at) => channel(Number.parseInt(color.slice(at, at + 2), 16) / 255))
    return 0.2126 * (r ?? 0) + 0.7152 * (g ?? 0) + 0.0722 * (b ?? 0)
  }
  const contrast = (a: string, b: string): number => {
    const [low, high] = [luminance(a), luminance(b)].sort((x, y) => x - y) as [number, number]
    return (high + 0.05) / (low + 0.05)
  }

  it('of every text have a contrast of 7:1 on both grounds', () => {
    expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 5)
    for (const theme of Object.values(themes))
      for (const text of ['ink', 'quiet', 'accent', 'amber', 'red'] as const)
        for (const ground of ['paper', 'sheet'] as const)
          expect(contrast(theme[text], theme[ground])).toBeGreaterThanOrEqual(7)
  })
})
