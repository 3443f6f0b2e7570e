/**
 * Child processes that end with us. A child gets a process group of its own, so that Ctrl-C reaches it exactly once
 * (through us, not through the terminal too), with all that it started.
 */
import { spawn } from 'node:child_process'
import { constants } from 'node:os'

const forwarded = ['SIGINT', 'SIGTERM', 'SIGHUP']
const grouped = process.platform !== 'win32'
const patience_ms = 8000
const running = new Set()
const cleanups = new Set()
let ending

/** Exit code by custom of the shell: 128 + the signal's number (130 for Ctrl-C, 143 for SIGTERM). */
export const exitCodeOf = (signal) => 128 + constants.signals[signal]

/** Work to be done, synchronously, when a signal ends us (a lock to be removed). Returns what takes it back. */
export function onInterrupt(cleanup) {
  cleanups.add(cleanup)
  return () => cleanups.delete(cleanup)
}

function send(child, signal) {
  try {
    grouped ? process.kill(-child.pid, signal) : child.kill(signal)
  } catch {
    // it ended in the meantime
  }
}

/** First signal: passed on, waited for. A second one, or no end in time: the children are killed. */
function end(signal) {
  for (const child of running) send(child, ending === undefined ? signal : 'SIGKILL')
  if (ending === undefined) setTimeout(() => end(signal), patience_ms).unref()
  ending ??= signal
  leaveWhenAlone()
}

function leaveWhenAlone() {
  if (ending === undefined || running.size > 0) return
  for (const cleanup of cleanups) cleanup()
  process.exit(exitCodeOf(ending))
}

/** To be called once at the start of a script: Ctrl-C, SIGTERM and a closed terminal end it cleanly. */
export function endOnSignals() {
  for (const signal of forwarded) process.on(signal, () => end(signal))
}

/**
 * Runs a command to its end. Options as of spawn; `capture: true` collects both outputs.
 * Resolves to `{ code, output }`; code is 127 where the command could not be started.
 */
export function run(command, args, { capture = false, ...options } = {}) {
  const stdio = capture ? ['ignore', 'pipe', 'pipe'] : 'inherit'
  const child = spawn(command, args, { stdio, detached: grouped, ...options })
  let output = ''
  for (const stream of capture ? [child.stdout, child.stderr] : []) {
    stream.setEncoding('utf8').on('data', (text) => {
      output += text
    })
  }
  running.add(child)
  return new Promise((resolve) => {
    const ended = (code) => {
      if (!running.delete(child)) return
      leaveWhenAlone()
      resolve({ code, output })
    }
    child.on('error', (error) => {
      output += `${error.message}\n`
      ended(127)
    })
    child.on('close', (code, signal) => ended(signal === null ? code : exitCodeOf(signal)))
  })
}

/** npm as a command: the very npm that runs us where there is one, else the one on the PATH. */
export function npm(args, options) {
  const own = process.env.npm_execpath
  if (own?.endsWith('npm-cli.js')) return run(process.execPath, [own, ...args], options)
  return run('npm', args, { shell: process.platform === 'win32', ...options })
}
