import { readdir, rename, rm, rmdir } from 'node:fs/promises'
import { basename, dirname, join } from 'node:path'
import { type Refusal, refuser } from '@trueloop/ground/refusal'
import { makeFolder } from '@trueloop/host/folder'
import { codes } from '../codes.ts'

const refuse = refuser(codes)

/** What lies in a folder; nothing where there is none. A file of that name, or a folder that can't be read, lies there itself. */
export async function whatLiesIn(folder: string): Promise<readonly string[]> {
  try {
    return await readdir(folder)
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'ENOENT' ? [] : [basename(folder)]
  }
}

/** Fills a folder beside, which then takes its name: it appears whole or not at all. `fill` may refuse. */
export async function appearing(
  folder: string,
  fill: (beside: string) => Promise<Refusal | undefined>
): Promise<Refusal | undefined> {
  const beside = `${folder.replace(/[\\/]+$/, '')}.unfinished`
  await rm(beside, { recursive: true, force: true })
  await makeFolder(beside)
  try {
    const no = await fill(beside)
    if (no !== undefined) return no
    await removeEmpty(folder)
    await rename(beside, folder)
    return undefined
  } finally {
    await rm(beside, { recursive: true, force: true })
  }
}

/** Never with anything in it. */
async function removeEmpty(folder: string): Promise<void> {
  await rmdir(folder).catch((error: NodeJS.ErrnoException) => {
    if (error.code !== 'ENOENT') throw error
  })
}

/** Whether a file would lie in a folder, however deep. */
export const isWithin = (folder: string, file: string): boolean =>
  dirname(file) === folder || file.startsWith(join(folder, '/'))

export const notEmpty = (folder: string, there: readonly string[]): Refusal =>
  refuse('cli/folder-not-empty', {
    found: `${folder}, where there lies ${there.slice(0, 3).join(', ')}${there.length > 3 ? ', …' : ''}`,
    needed: 'a folder that is empty or not there yet',
    remedy: 'name another folder',
    where: { file: folder }
  })

/** Answers that lie where everybody looks. `what`: of the trial, of the job. */
export const answersTogether = (file: string, what: string): Refusal =>
  refuse('cli/answers-with-trial', {
    found: `answers that are to lie in the folder of the ${what}`,
    needed: `a place that nobody who examines opens before the ${what} is over`,
    remedy: 'name a file elsewhere: the person who keeps the answers has it, nobody else',
    where: { file }
  })
