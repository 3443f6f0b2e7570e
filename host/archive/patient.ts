import { setTimeout as sleep } from 'node:timers/promises'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { type Archive, type Opening, openArchive } from './archive.ts'
import type { Code } from './codes.ts'
import { holderOf, isElsewhere } from './holder.ts'

/** How long an opening waits for a program that lets go again within a moment, and how often it looks, ms. Our own numbers. */
export interface Patience {
  readonly patience_ms?: number
  readonly every_ms?: number
}

/**
 * Opens an archive, and waits where it is in use by a program that says it is about to let go (a service that reads).
 * Refuses as `openArchive`: another holder at once, that one after the time.
 */
export async function openPatiently(
  folder: string,
  { patience_ms = 5000, every_ms = 40, ...opening }: Opening & Patience = {}
): Promise<Result<Archive, Code>> {
  const until = performance.now() + patience_ms
  for (;;) {
    const archive = await openArchive(folder, opening)
    if (!isRefusal(archive) || archive.code !== 'archive/locked') return archive
    if (performance.now() > until || !(await isAboutToLetGo(folder))) return archive
    await sleep(every_ms)
  }
}

/** Without a name it has let go meanwhile, or has not yet said who it is. */
async function isAboutToLetGo(folder: string): Promise<boolean> {
  const holder = await holderOf(folder)
  return holder === undefined || (holder.brief === true && !isElsewhere(holder))
}
