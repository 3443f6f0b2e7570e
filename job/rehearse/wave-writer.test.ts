/** Oracle: scipy.io.wavfile reads what was written. */
import { execFileSync } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { needsTool } from '../../house/tools.ts'
import { type SampleFormat, waveFrames, waveHeader, writeWave } from './wave-writer.ts'

const channels = [
  Float64Array.from({ length: 40_000 }, (_, i) => Math.sin(i / 17) / 3),
  Float64Array.from({ length: 40_000 }, (_, i) => Math.cos(i / 23) * 1e-3 - 2),
  Float64Array.from({ length: 40_000 }, (_, i) => (i % 400 < 7 ? 5 : 0))
]
const numbers = [0, 1, 16_383, 16_384, 39_999]

const program = `
import json, sys
from scipy.io import wavfile
rate, data = wavfile.read(sys.argv[1])
print(json.dumps([rate, str(data.dtype), list(data.shape), [[float(v) for v in data[i]] for i in ${JSON.stringify(numbers)}]]))
`

needsTool('scipy', 'writeWave', (python) => {
  let folder = ''
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'wave-'))
  })
  afterAll(() => rmSync(folder, { recursive: true }))

  it.each<[SampleFormat, (v: number) => number]>([
    ['float32', Math.fround],
    ['float64', (v) => v]
  ])('%s is read by scipy.io.wavfile', (format, as) => {
    const file = join(folder, `${format}.wav`)
    writeFileSync(file, Buffer.concat([...writeWave(24_000, channels, format)]))
    const read = JSON.parse(execFileSync(python, ['-W', 'error', '-c', program, file], { encoding: 'utf8' }))
    const rows = numbers.map((i) => channels.map((channel) => as(channel[i]!)))
    expect(read).toEqual([24_000, format, [40_000, 3], rows])
  })

  it.each<[SampleFormat, string, number]>([
    ['pcm16', 'int16', 2 ** 15],
    ['pcm24', 'int32', 2 ** 23],
    ['pcm32', 'int32', 2 ** 31]
  ])('%s is read by scipy.io.wavfile, cut off at full scale', (format, type, full) => {
    const file = join(folder, `${format}.wav`)
    const odd = channels.map((channel) => channel.subarray(0, 39_999))
    writeFileSync(file, Buffer.concat([...writeWave(24_000, odd, format)]))
    const python4 = program.replace('39999', '39998')
    const read = JSON.parse(execFileSync(python, ['-W', 'error', '-c', python4, file], { encoding: 'utf8' }))
    const left = format === 'pcm24' ? 256 : 1 // scipy shifts them to the left
    const whole = (value: number) => left * Math.max(-full, Math.min(full - 1, Math.round(value * full)))
    const rows = [0, 1, 16_383, 16_384, 39_998].map((i) => channels.map((channel) => whole(channel[i]!)))
    expect(read).toEqual([24_000, type, [39_999, 3], rows])
  })
})

describe('what no wave file holds', () => {
  const form = { rate_Hz: 8000, channels: 3, frames: 10, format: 'float64' } as const
  it.each([
    ['no channel', () => waveHeader({ ...form, channels: 0 })],
    ['a broken rate', () => waveHeader({ ...form, rate_Hz: 8000.5 })],
    ['4 GiB', () => waveHeader({ ...form, frames: 178_956_970 })],
    ['unequal channels', () => waveFrames([new Float64Array(2), new Float64Array(3)], 'float32')]
  ])('%s', (_, make) => expect(make).toThrow(RangeError))
  it('holds a little less', () => expect(waveHeader({ ...form, frames: 178_956_960 }).length).toBe(58))
})
