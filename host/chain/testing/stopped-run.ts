import { spawn } from 'node:child_process'
import { join } from 'node:path'
import { createInterface } from 'node:readline'
import { build } from 'esbuild'
import { cloneRoot } from '../../../house/outside.ts'
import type { Point } from './points.ts'

/** Makes the program that stops itself, as a bundle that Node runs. */
export async function buildStopped(): Promise<string> {
  const outfile = join(cloneRoot, 'build', 'testing', `stopped-${process.pid}.mjs`)
  const entry = join(cloneRoot, 'host/chain/testing/stopped.ts')
  const external = ['libsql', 'kysely', 'zod']
  await build({
    ...{ entryPoints: [entry], outfile, external },
    ...{ bundle: true, platform: 'node', format: 'esm', logLevel: 'silent' }
  })
  return outfile
}

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
