import { setTimeout as sleep } from 'node:timers/promises'
import { got } from '@trueloop/host/chain/testing'
import { note } from '@trueloop/host/decide'
import { signerFor } from '@trueloop/host/signing'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { type DeskServed, passphrase, serveDesk } from './testing/desk.ts'

/** Oracles: the form of server-sent events (HTML, 9.2), read here line by line; the entries of the record. */

let desk: DeskServed
let address = ''
beforeEach(async () => {
  desk = await serveDesk()
  address = await desk.service.listen({ host: '127.0.0.1', port: 0 })
})
afterEach(() => desk.end())

interface Told {
  readonly event: string
  readonly id?: string
  readonly data: Record<string, unknown>
}

/** Reads a stream until it has told enough, or ended. */
class Stream {
  readonly told: Told[] = []
  readonly headers: Headers
  ended = false
  private constructor(headers: Headers) {
    this.headers = headers
  }
  static async open(headers: Record<string, string> = {}, job = 'J'): Promise<Stream> {
    const answer = await fetch(`${address}/api/jobs/${job}/events`, { headers })
    const stream = new Stream(answer.headers)
    void stream.read(answer.body as ReadableStream<Uint8Array>)
    return stream
  }
  private async read(body: ReadableStream<Uint8Array>): Promise<void> {
    let text = ''
    for await (const piece of body as unknown as AsyncIterable<Uint8Array>) {
      text += Buffer.from(piece).toString('utf8')
      const parts = text.split('\n\n')
      text = parts.pop() ?? ''
      for (const part of parts) this.add(part)
    }
    this.ended = true
  }
  private add(part: string): void {
    const fields = new Map(
      part.split('\n').map((line) => [line.slice(0, line.indexOf(':')), line.slice(line.indexOf(':') + 2)])
    )
    const id = fields.get('id')
    if (fields.has('event'))
      this.told.push({
        event: fields.get('event') ?? '',
        data: JSON.parse(fields.get('data') ?? ''),
        ...(id !== undefined && { id })
      })
  }
  async until(is: (told: readonly Told[]) => boolean, most_ms = 5000): Promise<readonly Told[]> {
    for (const from = performance.now(); !is(this.told) && performance.now() - from < most_ms; ) await sleep(10)
    return this.told
  }
}

const byCommand = (text: string) =>
  desk.withArchive(async (archive) => {
    const { signer } = got(await signerFor('D. Other', archive, { home: desk.folder, passphrase }))
    got(await note({ place: '1', text }, { archive, job: 'J', signer }))
  })

describe('what happens to a job', () => {
  it('is told with its number and place: what is stated here, and what a command writes, within about a second', async () => {
    const stream = await Stream.open()
    expect(stream.headers.get('content-type')).toBe('text/event-stream; charset=utf-8')
    expect(stream.headers.get('cache-control')).toBe('no-store')
    await stream.until((told) => told.length > 0)
    expect(stream.told).toMatchObject([{ event: 'head', data: { count: desk.count } }])
    const own = await desk.as('B. Two')
    await desk.send(
      'POST',
      '/api/jobs/J/statements',
      { id: 'e'.repeat(32), seen: desk.count, what: 'note', place: '1', text: 'x' },
      own
    )
    await stream.until((told) => told.some(({ data }) => data.kind === 'noted'))
    const noted = stream.told.find(({ data }) => data.kind === 'noted')
    expect(noted).toMatchObject({
      ...{ event: 'entry', id: String(desk.count + 1) },
      data: { seq: desk.count + 1, by: { name: 'B. Two' }, subject: { of: 'hole', name: '1' } }
    })
    await byCommand('from the command line')
    const from = performance.now()
    await stream.until((told) => told.filter(({ data }) => data.kind === 'noted').length === 2)
    expect(performance.now() - from).toBeLessThan(1500)
    expect(stream.told.filter(({ data }) => data.kind === 'noted')).toHaveLength(2)
  })

  it('is missed by nobody who was cut off, and told twice to nobody', async () => {
    await byCommand('while nobody listened')
    const stream = await Stream.open({ 'last-event-id': String(desk.count - 1) })
    await stream.until((told) => told.some(({ event }) => event === 'head'))
    expect(stream.told.filter(({ event }) => event === 'entry').map(({ id }) => Number(id))).toEqual([
      desk.count,
      desk.count + 1
    ])
    const again = await Stream.open({ 'last-event-id': stream.told.at(-1)?.id ?? '' })
    await sleep(800)
    expect(again.told).toEqual([])
  })

  it('does not hold the archive: commands get in while somebody listens', async () => {
    await Stream.open()
    await sleep(1500)
    const from = performance.now()
    await byCommand('in between')
    expect(performance.now() - from).toBeLessThan(2000)
  })

  it('ends when the service does; a stranger hears nothing', async () => {
    const stream = await Stream.open()
    const stranger = await fetch(`${address}/api/jobs/J/events`, { headers: { origin: 'http://evil.example' } })
    expect(stranger.status).toBe(403)
    await desk.service.close()
    await stream.until(() => stream.ended)
    expect(stream.ended).toBe(true)
  })
})
