/**
 * Memory does not grow with the recording: a 4 GB recording read through a pipe and examined needs at most 10 % more
 * than a 256 MB one, and less than 400 MB (peak resident set, VmHWM of proc(5)).
 */
import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { existsSync, readFileSync, statSync } from 'node:fs'
import { join } from 'node:path'
import { streamRecording } from './memory/recording.mjs'

export const title = 'peak memory of a 4 GB recording through a pipe against a 256 MB one'

// ---- TO BE FILLED IN when the command is final: how `examine` is told to read a recording from its standard input,
// ---- and where the technique and the standardization that fit house/long/memory/recording.mjs lie.
const technique = 'house/long/memory/technique.json'
const standardization = 'house/long/memory/standardization.json'
const commandLine = ({ program, root }) => [
  ...[program('cli'), 'examine'],
  ...['--technique', join(root, technique), '--standardization', join(root, standardization), '-']
]
/** Exit codes that mean "the recording was read and examined to its end" (0 done, 1 something waits for a person). */
const examinedCodes = [0, 1]
// ---- end of what is to be filled in

const GB = 2 ** 30
const MB = 2 ** 20
const sizes = { small: 256 * MB, large: 4 * GB }
const limits = { growth: 1.1, peak_MB: 400 }
const look_ms = 50

/** Highest resident set so far, bytes; undefined once the process is gone. */
function peakOf(pid) {
  try {
    const [, kilobytes] = readFileSync(`/proc/${pid}/status`, 'utf8').match(/^VmHWM:\s+(\d+) kB$/m) ?? []
    return kilobytes === undefined ? undefined : Number(kilobytes) * 1024
  } catch {
    return undefined
  }
}

async function examine(args, bytes) {
  const child = spawn(process.execPath, args, { stdio: ['pipe', 'pipe', 'pipe'] })
  const closed = once(child, 'close')
  let peak = 0
  const look = () => {
    peak = Math.max(peak, peakOf(child.pid) ?? 0)
  }
  const timer = setInterval(look, look_ms)
  const output = { stdout: lastOf(child.stdout), stderr: lastOf(child.stderr) }
  const from = performance.now()
  const sent = await streamRecording(child.stdin, bytes, look)
  const [code] = await closed
  clearInterval(timer)
  return { code, sent, peak, seconds: (performance.now() - from) / 1000, said: `${output.stdout()}${output.stderr()}` }
}

/** The end of what a stream says: enough to see why, and no memory of ours that grows. */
function lastOf(stream) {
  let text = ''
  stream.setEncoding('utf8').on('data', (more) => {
    text = (text + more).slice(-2000)
  })
  return () => text
}

const figures = ({ code, sent, peak, seconds }) => ({
  exitCode: code,
  sent_MB: Math.round(sent / MB),
  peak_MB: Number((peak / MB).toFixed(1)),
  seconds: Number(seconds.toFixed(1))
})

/** All that has to hold, each with its own word: a run that ended early must not pass for a lean one. */
function judge(small, large) {
  const growth = large.peak / small.peak
  return {
    examinedBoth: [small, large].every(({ code }) => examinedCodes.includes(code)),
    sentAll: small.sent >= sizes.small && large.sent >= sizes.large,
    growthWithin: growth <= limits.growth,
    peakWithin: large.peak < limits.peak_MB * MB
  }
}

export async function run(context) {
  if (!existsSync('/proc/self/status')) return { ok: false, error: 'needs /proc to read the peak of memory' }
  const args = commandLine(context)
  const missing = args.filter((arg) => arg.startsWith(context.root) && !statSync(arg, { throwIfNoEntry: false }))
  if (missing.length > 0)
    return { ok: false, error: `not there: ${missing.map((path) => path.slice(context.root.length + 1)).join(', ')}` }
  context.say('256 MB …')
  const small = await examine(args, sizes.small)
  context.say('4 GB …')
  const large = await examine(args, sizes.large)
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
