import { isRefusal, type Refusal } from '@trueloop/ground/refusal'
import { type Comparison, type Imported, type Merged, mergeBundle, readBundle } from '@trueloop/host/bundle'
import { Command } from 'commander'
import { interrupted } from '../terminal/process.ts'
import { progressLine } from '../terminal/progress.ts'
import { say } from '../terminal/say.ts'
import { withArchive } from '../work/archive.ts'
import { withSigner } from '../work/signer.ts'

const example = `
Examples:
  trueloop import DEMO-1.zip
  trueloop import DEMO-1.zip --merge --as "B. Two" --reason "two teams, one on each wing" --clocks-within-s 30

All of it is verified before anything is written: the whole job comes in, or nothing. A job that is here already is
brought up to the bundle where its record is the beginning of the bundle's; where both went on, it is refused, until a person
brings both together with --merge: nothing here is overwritten, the other chain is kept as it lies, and both heads are
cited. What people said apart and what does not agree stays open. Without --clocks-within-s nobody knows which came first of
what the two did, and a failed recheck of either then voids what it may void.`

interface Options {
  readonly json?: boolean
  readonly merge?: boolean
  readonly as?: string
  readonly reason?: string
  readonly clocksWithinS?: string
  readonly passphraseFile?: string
}

export const command = (): Command =>
  new Command('import')
    .description('Takes a job in from a ZIP that export wrote.')
    .argument('<file>', 'the ZIP')
    .option('--merge', 'bring in what another device has written in a job that went on here too')
    .option('--as <name>', 'with --merge: the person who signs, as the register has them')
    .option('--reason <text>', 'with --merge: why two devices worked apart')
    .option(
      '--clocks-within-s <number>',
      'with --merge: by how much both clocks can have differed, where that is known'
    )
    .option(
      '--passphrase-file <file>',
      'file whose first line is the passphrase; else TRUELOOP_PASSPHRASE, else asked for'
    )
    .option('--json', 'one JSON document, import/1, on standard output')
    .addHelpText('after', example)
    .action(run)

async function run(file: string, options: Options, self: Command): Promise<void> {
  const { json = false, merge = false } = options
  const progress = progressLine()
  const tell = (at: number, of: number) => progress.show(`${at} of ${of} originals`)
  const how = { signal: interrupted, tell }
  const found = merge
    ? await merged(file, { ...options, how }, self)
    : await withArchive((archive) => readBundle(archive, file, how))
  progress.clear()
  report(found, file, json)
}

interface Merging extends Options {
  readonly how: { readonly signal: AbortSignal; readonly tell: (at: number, of: number) => void }
}

async function merged(file: string, { as, reason, clocksWithinS, passphraseFile, how }: Merging, self: Command) {
  if (as === undefined || reason === undefined) return self.error('error: --merge needs --as and --reason')
  const seconds = clocksWithinS === undefined ? undefined : Number(clocksWithinS)
  if (seconds !== undefined && !(seconds >= 0 && seconds <= 86_400)) {
    return self.error('error: --clocks-within-s is a number of seconds from 0 to 86400')
  }
  const clocks = seconds === undefined ? {} : { clocks_agree_s: seconds }
  return withSigner(as, { passphraseFile }, (archive, signer) =>
    mergeBundle({ archive, signer }, file, { ...how, reason, ...clocks })
  )
}

function report(found: Imported | Merged | Refusal, file: string, json: boolean): void {
  const said = { document: 'import/1', json }
  if (isRefusal(found)) return void say({ ...said, refusals: [found], text: [], data: { file } })
  say({ ...said, refusals: [], text: textOf(found), data: { file, ...found } })
}

const standings: Readonly<Record<Comparison['standing'], string>> = {
  'not here': 'taken in',
  'ours is older': 'brought up to the bundle',
  'the same': 'here already, the same; nothing to do',
  'theirs is older': 'here already, with more entries than the bundle; nothing to do',
  forked: 'gone on here and there; both chains are kept, and merged'
}

const textOf = (found: Imported | Merged): readonly string[] => [
  `job ${found.job}: ${standings[found.standing]}`,
  `${found.added} entries and ${found.originals} originals added`,
  `chain head of the bundle ${found.theirs.count}:${found.theirs.head}`,
  ...('head' in found ? [`chain head here ${found.head.count}:${found.head.head}`, look] : [])
]

const look = 'what does not agree stands in the report, under decisions of people; the places it concerns are open'
