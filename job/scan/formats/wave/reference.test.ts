/**
 * Files of a general-purpose scientific library against what its own reader found (`expected_by_scipy.json`, scipy
 * 1.10.1): rate, shape, first values, or a refusal. SciPy gives integers left-justified in the next type it has; here
 * they are divided by that type's full scale. It refuses RF64, which is read here; those two are compared with the same
 * recording as RIFF.
 */
import { readdirSync, readFileSync } from 'node:fs'
import { isRefusal } from '@trueloop/ground/refusal'
import { expect, it } from 'vitest'
import { needsOutside } from '../../../../house/outside.ts'
import type { Table } from '../../format.ts'
import { wave } from '../wave.ts'
import type { WaveFormat } from './fmt.ts'
import { FrameReader } from './reader.ts'

interface Found {
  readonly rate?: number
  readonly shape?: readonly number[]
  readonly dtype?: string
  readonly first?: readonly number[]
  readonly error?: string
}

const FULL_SCALE: Readonly<Record<string, readonly [number, number]>> = {
  uint8: [128, 128],
  int16: [2 ** 15, 0],
  int32: [2 ** 31, 0],
  '>i4': [2 ** 31, 0],
  int64: [2 ** 63, 0],
  float32: [1, 0],
  '>f4': [1, 0],
  float64: [1, 0]
}

/** Samples in which the two floating-point files differ, counted with scipy.io.wavfile 1.10.1 (by at most 6e-8). */
const SCIPY_DIFFERENT = 464

/** What this reader refuses, and how. */
const REFUSED: Readonly<Record<string, string>> = {
  'test-44100Hz-le-1ch-4bytes-early-eof-no-data.wav': 'scan/truncated-header',
  'test-44100Hz-le-1ch-4bytes-incomplete-chunk.wav': 'scan/truncated-header',
  'test-8000Hz-le-1ch-1byte-ulaw.wav': 'scan/unsupported-encoding',
  'test-8000Hz-le-3ch-5S-24bit-inconsistent.wav': 'scan/inconsistent-header'
}

needsOutside('outside/reader_reference_files', 'reference files for WAV readers', (folder) => {
  const expected = JSON.parse(readFileSync(`${folder}/expected_by_scipy.json`, 'utf8')) as {
    wav: Record<string, Found>
  }
  const names = readdirSync(`${folder}/wav`).sort()
  const bytesOf = (name: string): Uint8Array => new Uint8Array(readFileSync(`${folder}/wav/${name}`))

  function read(name: string): { format: WaveFormat; frames: number[][] } | string {
    const bytes = bytesOf(name)
    const seen = wave.survey({ bytes, name, size: bytes.length })
    if (isRefusal(seen)) return seen.code
    const reader = new FrameReader(
      seen.columns.map((_, channel) => channel),
      undefined
    )
    const tables: Table[] = []
    for (const byte of bytes) {
      const got = reader.push(Uint8Array.of(byte))
      if (isRefusal(got)) return got.code
      tables.push(...got)
    }
    const end = reader.end()
    if (isRefusal(end)) return end.code
    const frames = [...tables, ...end.tables].flatMap((table) =>
      Array.from({ length: table.rows }, (_, row) => table.columns.map((column) => column[row] as number))
    )
    return { format: reader.format as WaveFormat, frames }
  }

  it('are all expected', () => {
    expect(names).toEqual(Object.keys(expected.wav).sort())
  })

  it.each(Object.entries(expected.wav).filter(([, found]) => found.error === undefined))('%s', (name, found) => {
    const got = read(name)
    if (typeof got === 'string') throw new Error(got)
    const [scale, zero] = FULL_SCALE[found.dtype as string] as readonly [number, number]
    expect(got.format.rate_Hz).toBe(found.rate)
    expect([got.frames.length, got.format.channels]).toEqual([found.shape?.[0], found.shape?.[1] ?? 1])
    const first = got.frames.flat().slice(0, found.first?.length)
    expect(first.map((value) => value * scale + zero)).toEqual(found.first)
  })

  it.each(Object.entries(REFUSED))('%s is refused with %s, as by the reference reader', (name, code) => {
    expect(expected.wav[name]?.error).toBeDefined()
    expect(read(name)).toBe(code)
  })

  it.each([
    ['test-44100Hz-le-1ch-4bytes-rf64.wav', 'test-44100Hz-le-1ch-4bytes.wav'],
    ['test-8000Hz-le-3ch-5S-24bit-rf64.wav', 'test-8000Hz-le-3ch-5S-24bit.wav'],
    ['test-44100Hz-be-1ch-4bytes.wav', 'test-44100Hz-le-1ch-4bytes.wav'],
    ['test-8000Hz-be-3ch-5S-24bit.wav', 'test-8000Hz-le-3ch-5S-24bit.wav']
  ])('%s holds the same samples as %s', (one, other) => {
    const [a, b] = [read(one), read(other)]
    if (typeof a === 'string' || typeof b === 'string') throw new Error(`${String(a)} ${String(b)}`)
    expect(a.frames).toEqual(b.frames)
  })

  it('the big-endian floating-point file differs from the little-endian one in last bits only, as SciPy sees it too', () => {
    const [a, b] = [read('test-44100Hz-2ch-32bit-float-be.wav'), read('test-44100Hz-2ch-32bit-float-le.wav')]
    if (typeof a === 'string' || typeof b === 'string') throw new Error(`${String(a)} ${String(b)}`)
    const other = b.frames.flat()
    const apart = a.frames.flat().map((value, at) => Math.abs(value - (other[at] as number)))
    expect(apart.filter((value) => value > 0)).toHaveLength(SCIPY_DIFFERENT)
    expect(Math.max(...apart)).toBeLessThan(1e-7)
  })
})
