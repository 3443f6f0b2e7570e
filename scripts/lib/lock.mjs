/** One at a time in this clone: an exclusive lock file that names its holder, so that a dead holder's lock is seen as such. */
import { linkSync, mkdirSync, readFileSync, rmdirSync, rmSync, statSync, unlinkSync, writeFileSync } from 'node:fs'
import { dirname } from 'node:path'
import { onInterrupt } from './child.mjs'

const poll_ms = 150
const breakTooOld_ms = 10_000

/** Runs `work` while holding the lock at `path`; waits, and says for whom, while another live process holds it. */
export async function withLock(path, say, work) {
  mkdirSync(dirname(path), { recursive: true })
  const release = await take(path, say)
  const forget = onInterrupt(release)
  try {
    return await work()
  } finally {
    forget()
    release()
  }
}

async function take(path, say) {
  for (let told = false; !tryTake(path); ) {
    const holder = read(path)
    if (holder !== undefined && !isAlive(holder)) {
      removeStale(path, holder)
      continue
    }
    if (!told && holder !== undefined) say(`waiting for process ${holder.pid}, which sets up this clone right now`)
    told ||= holder !== undefined
    await new Promise((resolve) => setTimeout(resolve, poll_ms))
  }
  return () => rmSync(path, { force: true })
}

/** A link appears with its content or not at all; a file opened with `wx` would be empty for a moment. */
function tryTake(path) {
  const mine = `${path}.${process.pid}`
  writeFileSync(mine, JSON.stringify({ pid: process.pid, started: startOf(process.pid) }))
  try {
    linkSync(mine, path)
    return true
  } catch (error) {
    if (error.code !== 'EEXIST') throw error
    return false
  } finally {
    unlinkSync(mine)
  }
}

function read(path) {
  try {
    return JSON.parse(readFileSync(path, 'utf8'))
  } catch {
    return undefined
  }
}

/** Alive and the same process: a number given anew after a restart has another start time. */
function isAlive({ pid, started }) {
  try {
    process.kill(pid, 0)
  } catch (error) {
    if (error.code === 'ESRCH') return false
  }
  return startOf(pid) === started
}

/** Start of a process in ticks since boot (proc(5), field 22 of stat); empty where there is no /proc. */
function startOf(pid) {
  try {
    return readFileSync(`/proc/${pid}/stat`, 'utf8').split(') ').at(-1).split(' ')[19]
  } catch {
    return ''
  }
}

/** Two that find the same dead holder must not remove each other's new lock: removal is for one at a time, after a second look. */
function removeStale(path, holder) {
  const guard = `${path}.break`
  try {
    mkdirSync(guard)
  } catch {
    removeOldGuard(guard)
    return
  }
  try {
    if (JSON.stringify(read(path)) === JSON.stringify(holder)) unlinkSync(path)
  } finally {
    rmdirSync(guard)
  }
}

function removeOldGuard(guard) {
  try {
    if (Date.now() - statSync(guard).mtimeMs > breakTooOld_ms) rmdirSync(guard)
  } catch {
    // another one was quicker
  }
}
