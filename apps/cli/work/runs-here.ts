import { readFile, rm, writeFile } from 'node:fs/promises'
import { hostname } from 'node:os'
import { join } from 'node:path'

/** Which service shows a data folder, for the one that is started beside it: one is enough, and its page is the same. */
export interface Running {
  readonly pid: number
  readonly host: string
  readonly address: string
}

const noteIn = (home: string): string => join(home, 'service.json')

/** The service that runs for this data folder and answers; undefined where none does, a note that was left behind included. */
export async function running(home: string): Promise<Running | undefined> {
  const note = await noted(home)
  if (note === undefined || note.host !== hostname()) return undefined
  return (await answers(note)) ? note : undefined
}

async function noted(home: string): Promise<Running | undefined> {
  try {
    const { pid, host, address } = JSON.parse(await readFile(noteIn(home), 'utf8')) as Partial<Running>
    const isWhole = typeof pid === 'number' && typeof host === 'string' && typeof address === 'string'
    return isWhole && isLoopback(address) ? { pid, host, address } : undefined
  } catch {
    return undefined
  }
}

const isLoopback = (address: string): boolean => /^http:\/\/127\.0\.0\.1:\d+$/.test(address)

/** Another program may have got its port since: only a service says which process it is. */
async function answers({ pid, address }: Running): Promise<boolean> {
  try {
    const answer = await fetch(`${address}/api/service`, { signal: AbortSignal.timeout(2000) })
    return ((await answer.json()) as { readonly pid?: unknown }).pid === pid
  } catch {
    return false
  }
}

/**
 * Notes this service, unless another one was first: of two that start at the same time one gets the note, and the other
 * is told of it.
 */
export async function claim(home: string, address: string): Promise<Running | undefined> {
  const own = { pid: process.pid, host: hostname(), address }
  for (let tries = 0; tries < 3; tries++) {
    try {
      await writeFile(noteIn(home), `${JSON.stringify(own)}\n`, { flag: 'wx' })
      return undefined
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error
    }
    const other = await running(home)
    if (other !== undefined) return other
    await rm(noteIn(home), { force: true })
  }
  return undefined
}

/** Takes the note away again, where it is this service's own. */
export async function unclaim(home: string): Promise<void> {
  const note = await noted(home)
  if (note?.pid === process.pid) await rm(noteIn(home), { force: true })
}
