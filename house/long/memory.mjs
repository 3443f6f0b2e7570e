/**
 * Memory does not grow with the recording: a 4 GB recording read through a pipe and examined needs at most 10 % more
 * than a 256 MB one, and less than 400 MB (peak resident set, VmHWM of proc(5); at its end the program's own figure).
 * Measured is house/long/memory/examine.ts: reader and examination as the commands use them, fed from standard input.
 */
import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { existsSync, readFileSync } from 'node:fs'
import { pathToFileURL } from 'node:url'
import { bundleFile } from '../../scripts/lib/build.mjs'

export const title = 'peak memory of a 4 GB recording through a pipe against a 256 MB one'

const GB = 2 ** 30
const MB = 2 ** 20
const sizes = { small: 256 * MB, large: 4 * GB }
const limits = { growth: 1.1, peak_MB: 400 }
const look_ms = 50
/** Of house/long/memory/recording.ts: RF64 head, three channels of four bytes, nominal speed and rate of the demonstration. */
const headerBytes = 80
const bytesPerSample = 12
const samplesPerRevolution = (12_500 * 60) / 1200

/** Highest resident set so far, bytes; undefined once the process is gone. */
function peakOf(pid) {
  try {
    const [, kilobytes] = readFileSync(`/proc/${pid}/status`, 'utf8').match(/^VmHWM:\s+(\d+) kB$/m) ?? []
    return kilobytes === undefined ? undefined : Number(kilobytes) * 1024
  } catch {
    return undefined
  }
}

async function examine({ program, source }, bytes) {
  const parts = source.makeParts()
  const child = spawn(process.execPath, [program], { stdio: ['pipe', 'pipe', 'pipe'] })
  const closed = once(child, 'close')
  let peak = 0
  const look = () => {
    peak = Math.max(peak, peakOf(child.pid) ?? 0)
  }
  const timer = setInterval(look, look_ms)
  const output = { stdout: lastOf(child.stdout), stderr: lastOf(child.stderr) }
  const from = performance.now()
  const sent = await source.streamRecording(child.stdin, { parts, bytes, look })
  const [code] = await closed
  clearInterval(timer)
  const told = toldIn(output.stdout())
  peak = Math.max(peak, (told?.peak_kB ?? 0) * 1024)
  return { code, sent, peak, seconds: (performance.now() - from) / 1000, told, said: output.stderr() }
}

/** The end of what a stream says: enough to see why, and no memory of ours that grows. */
function lastOf(stream) {
  let text = ''
  stream.setEncoding('utf8').on('data', (more) => {
    text = (text + more).slice(-20_000)
  })
  return () => text
}

function toldIn(stdout) {
  try {
    return JSON.parse(stdout)
  } catch {
    return undefined
  }
}

const figures = ({ code, sent, peak, seconds, told }) => ({
  exitCode: code,
  sent_MB: Math.round(sent / MB),
  peak_MB: Number((peak / MB).toFixed(1)),
  seconds: Number(seconds.toFixed(1)),
  MB_per_s: Number((sent / MB / seconds).toFixed(1)),
  examined: told
})

/**
 * Every sample was read and every revolution went through the recipe. A bore of that length is no fastener hole, so that
 * its depth is refused in both sizes; nothing else may be.
 */
const isExamined = ({ code, sent, told }) =>
  code === 0 &&
  told?.samples === (sent - headerBytes) / bytesPerSample &&
  Math.abs(told.samples / samplesPerRevolution / told.revolutions - 1) < 0.02 &&
  told.refusals.every((refusal) => refusal === 'examine/too-long-for-depth')

/** All that has to hold, each with its own word: a run that ended early must not pass for a lean one. */
function judge(small, large) {
  return {
    examinedBoth: [small, large].every(isExamined),
    sentAll: small.sent >= sizes.small && large.sent >= sizes.large,
    growthWithin: large.peak <= limits.growth * small.peak,
    peakWithin: large.peak < limits.peak_MB * MB
  }
}

export async function run({ say }) {
  if (!existsSync('/proc/self/status')) return { ok: false, error: 'needs /proc to read the peak of memory' }
  const program = await bundleFile('house/long/memory/examine.ts', 'build/long/memory-examine.mjs')
  const made = await bundleFile('house/long/memory/recording.ts', 'build/long/memory-recording.mjs')
  const measured = { program, source: await import(pathToFileURL(made).href) }
  say('256 MB …')
  const small = await examine(measured, sizes.small)
  say('4 GB …')
  const large = await examine(measured, sizes.large)
  const holds = judge(small, large)
  const ok = Object.values(holds).every(Boolean)
  const said = ok ? {} : { said: { small: small.said, large: large.said } }
  return {
    ok,
    limits,
    growth: Number((large.peak / small.peak).toFixed(3)),
    small: figures(small),
    large: figures(large),
    holds,
    ...said
  }
}
