import { copyFile, rm, utimes, writeFile } from 'node:fs/promises'
import { dirname, isAbsolute, join, normalize } from 'node:path'
import { type Refusal, type Result, refuser } from '@trueloop/ground/refusal'
import { makeFolder } from '@trueloop/host/folder'
import { sheetText } from '@trueloop/host/sheet'
import type { HoleSheet } from '@trueloop/job/plan'
import { type Mixed, type OwnReference, recordedFrom, type TableShelf } from '@trueloop/job/rehearse'
import { codes } from '../codes.ts'
import { interrupted } from '../terminal/process.ts'
import { unreadable, unwritable } from '../terminal/unreadable.ts'
import { isThere } from './there.ts'
import { channelsOf, type WaveLike, writeChannels } from './wave-file.ts'
import { answersTogether, appearing, isWithin, notEmpty, whatLiesIn } from './whole-folder.ts'

const refuse = refuser(codes)

/** What goes where; all paths absolute. */
export interface MixPaths {
  /** folder of the job sheet as it was, in which its recordings lie */
  readonly from: string
  readonly into: string
  readonly answers: string
}

export interface MixedFiles {
  readonly sheet: string
  readonly answers: string
}

/** What has to be so before anything is made. Refuses cli/answers-with-trial, cli/folder-not-empty, cli/recording-elsewhere. */
export async function placesFree({ recordings }: HoleSheet, paths: MixPaths): Promise<Refusal | undefined> {
  if (isWithin(paths.into, paths.answers)) return answersTogether(paths.answers, 'job')
  const there = await whatLiesIn(paths.into)
  if (there.length > 0) return notEmpty(paths.into, there)
  if (await isThere(paths.answers)) return answersThere(paths.answers)
  const outside = recordings.find(({ file }) => isAbsolute(file) || normalize(file).startsWith('..'))
  return outside === undefined ? undefined : elsewhere(outside.file)
}

export interface ToWrite {
  readonly mixed: Mixed
  readonly own: OwnReference
  readonly form: WaveLike
  readonly shelf: TableShelf
  readonly tell: (text: string) => void
}

/**
 * Writes the folder, whole or not at all, and the answers. All files get the same time: it must not tell which are new.
 * Refuses as placesFree; cli/unreadable-file, cli/unwritable-file.
 */
export async function writeMixed(paths: MixPaths, made: ToWrite): Promise<Result<MixedFiles>> {
  const busy = await placesFree(made.mixed.sheet, paths)
  if (busy !== undefined) return busy
  let answered = false
  try {
    const no = await appearing(paths.into, async (beside) => {
      const bad = (await fill(beside, paths, made)) ?? (await writeAnswers(paths.answers, made.mixed))
      answered = bad === undefined
      return bad
    })
    return no ?? { sheet: join(paths.into, SHEET), answers: paths.answers }
  } catch (error) {
    if (answered) await rm(paths.answers, { force: true })
    interrupted.throwIfAborted()
    return unwritable(paths.into, error)
  }
}

const SHEET = 'job.yaml'

async function fill(folder: string, { from }: MixPaths, made: ToWrite): Promise<Refusal | undefined> {
  const { sheet, recordings } = made.mixed
  const time = new Date()
  for (const { file } of sheet.recordings) {
    interrupted.throwIfAborted()
    const to = join(folder, file)
    await makeFolder(dirname(to))
    const mixedIn = recordings.find((one) => one.file === file)
    made.tell('writing recordings')
    const no = mixedIn === undefined ? await copied(join(from, file), to) : await recorded(to, mixedIn, made)
    if (no !== undefined) return no
    await utimes(to, time, time)
  }
  await writeFile(join(folder, SHEET), sheetText(sheet, commentOf(sheet)))
  return undefined
}

const commentOf = ({ job: { demonstration } }: HoleSheet): string =>
  `${demonstration ? 'DEMONSTRATION: invented data, never to be signed off. ' : ''}Practice is mixed in: it is marked before the job is closed.`

/** Never a link: the number of links would tell which recordings were there before. */
async function copied(from: string, to: string): Promise<Refusal | undefined> {
  try {
    await copyFile(from, to)
    return undefined
  } catch (error) {
    return unreadable(from, error)
  }
}

async function recorded(to: string, one: Mixed['recordings'][number], { own, form, shelf }: ToWrite) {
  const columns = recordedFrom(one, own, shelf)
  await writeChannels(to, { rate_Hz: columns.rate_Hz, channels: channelsOf(columns, form), format: form.format })
  return undefined
}

async function writeAnswers(path: string, { answers }: Mixed): Promise<Refusal | undefined> {
  try {
    await makeFolder(dirname(path))
    await writeFile(path, `${JSON.stringify(answers, null, 1)}\n`, { flag: 'wx' })
    return undefined
  } catch (error) {
    return unwritable(path, error)
  }
}

const answersThere = (file: string): Refusal =>
  refuse('cli/folder-not-empty', {
    found: 'a file of that name',
    needed: 'a place where nothing lies yet: answers are never written over',
    remedy: 'name another file for the answers',
    where: { file }
  })

const elsewhere = (file: string): Refusal =>
  refuse('cli/recording-elsewhere', {
    found: `${file}: a recording outside the folder of its job sheet`,
    needed: 'recordings beside the sheet or below it: the new folder stands by itself',
    remedy: 'put sheet and recordings into one folder, and name them from there'
  })
