import { type ChildProcess, spawn } from 'node:child_process'
import { existsSync } from 'node:fs'
import { join } from 'node:path'
import { cloneRoot } from '../../../house/outside.ts'

/** The bundled program, as a user runs it. `npm test -- build doors` makes and tests it. */
export const bundle = join(cloneRoot, 'build/cli/main.js')

export interface Ended {
  readonly code: number | null
  readonly out: string
  readonly err: string
}

export interface Started {
  readonly child: ChildProcess
  readonly ended: Promise<Ended>
}

/** Starts the program with a data folder of its own. */
export function start(home: string, args: readonly string[], env: Readonly<Record<string, string>> = {}): Started {
  if (!existsSync(bundle)) throw new Error(`no ${bundle}: npm test -- build`)
  const child = spawn(process.execPath, [bundle, ...args], { env: { ...process.env, TRUELOOP_HOME: home, ...env } })
  const read = { out: '', err: '' }
  child.stdout.setEncoding('utf8').on('data', (text) => {
    read.out += text
  })
  child.stderr.setEncoding('utf8').on('data', (text) => {
    read.err += text
  })
  const ended = new Promise<Ended>((resolve) => child.on('close', (code) => resolve({ code, ...read })))
  return { child, ended }
}

export const runIn =
  (home: () => string) =>
  (...args: string[]): Promise<Ended> =>
    start(home(), args).ended
