/**
 * The trial with every declared number of interpretation and sizing moved by ×0.8 and ×1.25, one at a time: with each at
 * least 11 of 15 flaws found and at most one of 22 holes falsely called. Kept are the counts, and the lines that differ.
 */
import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { createInterface } from 'node:readline'

export const title =
  'trial jobs with every declared number × 0.8 and × 1.25: at least 11 found, at most 1 falsely called'

const wanted = { found: 11, falselyCalled: 1 }
const lineOf = /^(.+ × [\d.]+) = \S+: found (\d+) of \d+, falsely called (\d+) of \d+, faults caught (\d+) of \d+/

export async function run({ program, sharedPath, say }) {
  const trial = sharedPath('trial')
  if (trial === undefined) throw new Error('found no trial recordings; name their folder in TRUELOOP_SHARED')
  const child = spawn(process.execPath, [program('cli'), 'trial', trial, '--plateau'], {
    stdio: ['ignore', 'pipe', 'inherit']
  })
  const closed = once(child, 'close')
  const counts = new Map()
  const outside = []
  let moves = 0
  for await (const line of createInterface({ input: child.stdout })) {
    const [, move, found, called, caught] = lineOf.exec(line) ?? []
    if (move === undefined) continue
    moves++
    const key = `found ${found}, falsely called ${called}, faults caught ${caught}`
    counts.set(key, (counts.get(key) ?? 0) + 1)
    if (Number(found) < wanted.found || Number(called) > wanted.falselyCalled) outside.push(line)
    if (moves % 50 === 0) say(`${moves} moves`)
  }
  const [code] = await closed
  return {
    ok: code === 0 && moves > 0 && outside.length === 0,
    wanted,
    moves,
    counts: Object.fromEntries(counts),
    outside
  }
}
