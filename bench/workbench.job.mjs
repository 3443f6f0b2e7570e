/**
 * An archive to look at: a job of many holes (invented recordings of the demonstration, one sample of each changed so that
 * no two are alike), some of them of 250 000 samples, one of 20 million; beside it a job of 2 000 invented places.
 */
import { spawnSync } from 'node:child_process'
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { parse } from 'yaml'
import { program } from '../scripts/lib/build.mjs'

export const samples = { large: 250_000, huge: 20_000_000 }
const frame = 12

function run(home, args, allowed = [0]) {
  const done = spawnSync(process.execPath, [program('cli'), ...args], {
    env: { ...process.env, TRUELOOP_HOME: home },
    encoding: 'utf8',
    maxBuffer: 2 ** 28
  })
  if (!allowed.includes(done.status))
    throw new Error(`${args.join(' ')}: ${done.status}\n${done.stdout}\n${done.stderr}`)
}

/** Three channels of 32-bit floats behind a header. */
function readWave(path) {
  const bytes = readFileSync(path)
  const at = bytes.indexOf('data') + 8
  const data = bytes.subarray(at, at + frame * Math.floor((bytes.length - at) / frame))
  return { head: bytes.subarray(0, at), values: new Float32Array(Uint8Array.from(data).buffer) }
}

function writeWave(path, { head, values }) {
  const header = Buffer.from(head)
  header.writeUInt32LE(values.byteLength, header.length - 4)
  header.writeUInt32LE(header.length - 8 + values.byteLength, 4)
  const fact = header.indexOf('fact')
  if (fact > 0) header.writeUInt32LE(values.length / 3, fact + 8)
  writeFileSync(path, Buffer.concat([header, Buffer.from(values.buffer)]))
}

/** As many samples as wanted, between the recorded ones in a straight line: the same turns at a higher rate. */
function denser({ head, values }, count) {
  const before = values.length / 3
  const out = new Float32Array(3 * count)
  for (let i = 0; i < count; i++) {
    const place = (i * (before - 1)) / (count - 1)
    const first = Math.min(before - 2, Math.floor(place))
    for (let c = 0; c < 3; c++) {
      const [a, b] = [values[3 * first + c], values[3 * first + 3 + c]]
      out[3 * i + c] = a + (b - a) * (place - first)
    }
  }
  return { head, values: out }
}

/** The same again and again. */
function repeated({ head, values }, count) {
  const out = new Float32Array(3 * count)
  for (let i = 0; i < out.length; i++) out[i] = values[i % values.length]
  return { head, values: out }
}

/** Makes it in an empty data folder; the names of its holes by what they are for. The usual ones repeat after `kinds`. */
export function makeJob(home, { holes = 500, large = 8 } = {}) {
  const folder = join(home, 'bench')
  mkdirSync(home, { recursive: true })
  run(home, ['rehearse', folder, '--seed', '3'])
  const sheet = parse(readFileSync(join(folder, 'job.yaml'), 'utf8'))
  const base = ['P01', 'P02', 'P03', 'P04', 'P06', 'P07'].map((name) => readWave(join(folder, `hole-${name}.wav`)))
  const of = (name) => ({ ...sheet.holes[0], id: name })
  const names = { usual: [], large: [], huge: 'H-1', kinds: base.length }
  const recordings = [sheet.recordings[0]]
  const add = (name, wave, rate) => {
    wave.values[3 * (recordings.length % 40)] += 1e-6 * recordings.length
    writeWave(join(folder, `${name}.wav`), wave)
    const columns = rate === undefined ? {} : { columns: { ...sheet.columns, rate_Hz: rate } }
    recordings.push({ of: 'hole', hole: name, file: `${name}.wav`, ...columns })
  }
  for (let at = 0; at < large; at++) {
    const wave = base[at % base.length]
    names.large.push(`L-${at + 1}`)
    const rate = Math.round((sheet.columns.rate_Hz * samples.large) / (wave.values.length / 3))
    add(`L-${at + 1}`, denser(wave, samples.large), rate)
  }
  for (let at = 0; at < holes; at++) {
    names.usual.push(`W-${at + 1}`)
    const { head, values } = base[at % base.length]
    add(`W-${at + 1}`, { head, values: Float32Array.from(values) })
  }
  add(names.huge, repeated(base[0], samples.huge))
  const holesOf = [...names.large, ...names.usual, names.huge].map(of)
  // the drawings are of other holes
  const { drawings: _, ...rest } = sheet
  const job = { ...rest, job: { ...sheet.job, id: 'BENCH-1' }, holes: holesOf, recordings }
  // the same hole many times: written out each time, not by reference
  writeFileSync(join(folder, 'bench.yaml'), JSON.stringify(job))
  run(home, ['plan', join(folder, 'bench.yaml')])
  run(home, ['examine', join(folder, 'bench.yaml')], [0, 1])
  return { job: 'BENCH-1', ...names }
}
