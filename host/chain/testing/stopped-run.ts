import { spawn } from 'node:child_process'
import { createInterface } from 'node:readline'
import type { Point } from './points.ts'

export interface Place {
  readonly bundle: string
  readonly folder: string
  readonly recordings: string
}

/** Runs the hole in a process of its own that kills itself at a point; what it said until then. */
export async function stoppedRun({ bundle, folder, recordings }: Place, { at, when }: Point) {
  const child = spawn(process.execPath, [bundle, folder, recordings, String(at), when], {
    stdio: ['ignore', 'pipe', 'inherit']
  })
  const ended = new Promise<NodeJS.Signals | null>((resolve) => child.once('exit', (_, signal) => resolve(signal)))
  const told: string[] = []
  for await (const line of createInterface({ input: child.stdout })) told.push(line)
  return { told, signal: await ended }
}
