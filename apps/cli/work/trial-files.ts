import { writeFile } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import { type Refusal, type Result, refuser } from '@trueloop/ground/refusal'
import { makeFolder } from '@trueloop/host/folder'
import { tableText } from '@trueloop/host/table'
import type { Answers, RunningTrial } from '@trueloop/job/prove'
import { codes } from '../codes.ts'
import { fileNameOf } from '../home.ts'
import { unwritable } from '../terminal/unreadable.ts'
import { isThere } from './there.ts'
import { answersTogether, isWithin } from './whole-folder.ts'

const refuse = refuser(codes)

/** Files of a trial: what may be seen in a folder, the answers elsewhere. */
export interface TrialFiles {
  readonly running: string
  readonly orders: readonly string[]
  readonly answers: string
}

export const runningName = 'trial.json'

/** A sheet for each inspector: the places in their order, to be filled. No size stands on it. */
export const orderCsv = ({ inspector, sites }: RunningTrial['orders'][number]): string =>
  tableText([['inspector', 'site', 'called', 'signal', 'at'], ...sites.map((site) => [inspector, site, '', '', ''])])

/**
 * Writes a trial; nothing that lies there is ever written over. Refuses cli/answers-with-trial, cli/folder-not-empty,
 * cli/unwritable-file.
 */
export async function writeTrial(
  running: RunningTrial,
  answers: Answers,
  { folder, to }: { readonly folder: string; readonly to: string }
): Promise<Result<TrialFiles>> {
  if (isWithin(folder, to)) return answersTogether(to, 'trial')
  const files = [
    { path: join(folder, runningName), text: `${JSON.stringify(running, null, 1)}\n` },
    ...running.orders.map((order) => ({
      path: join(folder, `${fileNameOf(order.inspector)}.csv`),
      text: orderCsv(order)
    })),
    { path: to, text: `${JSON.stringify(answers, null, 1)}\n` }
  ]
  for (const { path } of files) if (await isThere(path)) return notEmpty(path)
  for (const { path, text } of files) {
    const bad = await written(path, text)
    if (bad !== undefined) return bad
  }
  const paths = files.map(({ path }) => path)
  return { running: paths[0]!, orders: paths.slice(1, -1), answers: to }
}

async function written(path: string, text: string): Promise<Refusal | undefined> {
  try {
    await makeFolder(dirname(path))
    await writeFile(path, text, { flag: 'wx' })
    return undefined
  } catch (error) {
    return unwritable(path, error)
  }
}

const notEmpty = (file: string): Refusal =>
  refuse('cli/folder-not-empty', {
    found: 'a file of that name',
    needed: 'a place where nothing lies yet: a trial is built once',
    remedy: 'name another folder, or another file for the answers',
    where: { file }
  })
