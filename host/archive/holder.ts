import { readFile, rm, writeFile } from 'node:fs/promises'
import { hostname } from 'node:os'
import { join } from 'node:path'

/**
 * Who has the archive open, for the sentence that another program prints. The lock itself is the operating system's, on
 * the database file; this file only names its holder. On another machine that lock may not be seen: there the name alone
 * must do, and a stale one has to be removed by a person.
 */
export interface Holder {
  readonly pid: number
  readonly host: string
  /** it lets go again within a moment: whoever waits a little gets in */
  readonly brief?: boolean
}

const nameIn = (folder: string): string => join(folder, 'archive.lock')

export const self = (): Holder => ({ pid: process.pid, host: hostname() })

export const holderText = ({ pid, host }: Holder): string =>
  host === hostname() ? `process ${pid} on this computer` : `process ${pid} on ${host} (archive.lock names it)`

/** The holder that the folder names, if it can be read. */
export async function holderOf(folder: string): Promise<Holder | undefined> {
  try {
    const { pid, host, brief } = JSON.parse(await readFile(nameIn(folder), 'utf8')) as Partial<Holder>
    const isHolder = typeof pid === 'number' && typeof host === 'string'
    return isHolder ? { pid, host, ...(brief === true ? { brief } : {}) } : undefined
  } catch {
    return undefined
  }
}

export const isElsewhere = (holder: Holder | undefined): holder is Holder =>
  holder !== undefined && holder.host !== hostname()

export const takeHold = (folder: string, brief: boolean): Promise<void> =>
  writeFile(nameIn(folder), `${JSON.stringify(brief ? { ...self(), brief } : self())}\n`)

export const letGo = (folder: string): Promise<void> => rm(nameIn(folder), { force: true })
