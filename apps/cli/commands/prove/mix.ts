import { dirname, join, resolve } from 'node:path'
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { sha256 } from '@trueloop/host/hash'
import { readSheetFile } from '@trueloop/host/sheet'
import type { HoleSheet } from '@trueloop/job/plan'
import { mixable, mixOf, ownReferenceIn, ownReferenceOf } from '@trueloop/job/rehearse'
import type { Overrides } from '@trueloop/job/scan'
import { Command } from 'commander'
import { dataFolder } from '../../home.ts'
import { progressLine } from '../../terminal/progress.ts'
import { say } from '../../terminal/say.ts'
import { type MixedFiles, type MixPaths, placesFree, writeMixed } from '../../work/mixing.ts'
import { wholeNumber } from '../../work/numbers.ts'
import { diskShelf } from '../../work/shelf.ts'
import { readWave, type WaveLike } from '../../work/wave-file.ts'
import { refused } from './refused.ts'

interface Mixing {
  readonly into: string
  readonly answers: string
  readonly count: string
  readonly seed: number
  readonly json?: boolean
}

export const mixing = (): Command =>
  new Command('mix')
    .description('Mixes a few practice recordings into a job, and puts the answers apart.')
    .argument('<job-sheet>', 'the job sheet with its recordings, before anything of it is examined')
    .requiredOption('--into <folder>', 'where the job with practice in it goes')
    .requiredOption('--answers <file>', 'where the answers go, apart from it')
    .requiredOption('--count <number>', 'how many practice recordings')
    .requiredOption('--seed <number>', 'draws holes, flaws and places; as secret as the answers', wholeNumber)
    .option('--json', 'one JSON document, prove/1, on standard output')
    .action(mix)

async function mix(path: string, { into, answers, count: text, seed, json = false }: Mixing): Promise<void> {
  const file = await readSheetFile(path)
  if ('refusals' in file) return refused(json, file.refusals)
  const count = text.trim() === '' ? Number.NaN : Number(text)
  const sheet = mixable(file.sheet, count)
  if (isRefusal(sheet)) return refused(json, [file.place(sheet)])
  const progress = progressLine()
  const paths = { from: resolve(dirname(path)), into: resolve(into), answers: resolve(answers) }
  const done = await mixed(sheet, paths, { count, seed, tell: progress.show })
  progress.clear()
  if (isRefusal(done)) return refused(json, [placed(done, file.place)])
  const { files, modeled } = done
  say({
    ...{ document: 'prove/1', json, refusals: [] },
    text: [
      `job sheet: ${files.sheet}; ${count} of its ${sheet.holes.length + count} holes are practice`,
      `answers: ${files.answers}; keep them, and the seed, from everybody who examines`,
      'the job is not closed before they are marked: trueloop prove mark',
      ...modeled
    ],
    data: { files, count, modeled }
  })
}

const placed = (no: Refusal, place: (one: Refusal) => Refusal): Refusal =>
  no.where?.file === undefined ? place(no) : no

interface Asked {
  readonly count: number
  readonly seed: number
  readonly tell: (text: string) => void
}

interface Done {
  readonly files: MixedFiles
  readonly modeled: readonly string[]
}

async function mixed(sheet: HoleSheet, paths: MixPaths, { count, seed, tell }: Asked): Promise<Result<Done>> {
  const busy = await placesFree(sheet, paths)
  if (busy !== undefined) return busy
  const reference = ownReferenceIn(sheet)!
  const columns = (reference.columns ?? sheet.columns) as Overrides | undefined
  tell('reading the reference scan')
  const read = await readWave(join(paths.from, reference.file), columns)
  if (isRefusal(read)) return read
  const own = ownReferenceOf(sheet, read.columns)
  if (isRefusal(own)) return own
  tell('working out the field')
  const shelf = diskShelf(dataFolder())
  const made = mixOf({ sheet, own, count, seed, shelf, hash: sha256 })
  if (isRefusal(made)) return made
  const files = await writeMixed(paths, { mixed: made, own, form: read.form, shelf, tell })
  return isRefusal(files) ? files : { files, modeled: [...made.modeled, ...otherSamples(read.form)] }
}

/** A person who looks into the files could tell. */
const otherSamples = ({ samples, format }: WaveLike): readonly string[] =>
  samples === undefined
    ? []
    : [
        `the recordings of the job have ${samples} samples, those mixed in ${format}: whoever looks into the files can tell`
      ]
