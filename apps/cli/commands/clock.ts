import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { correctClock, type Decided } from '@trueloop/host/decide'
import { Command } from 'commander'
import { say } from '../terminal/say.ts'
import { withArchive } from '../work/archive.ts'
import { withSigner } from '../work/signer.ts'

const example = `
Examples:
  trueloop clock DEMO-1 --reason "was an hour ahead until noon" --as "B. Two"

An entry is never older than the one before it. Where the clock of this computer was ahead, a person says so, and the record goes
on from the right time; the reason stays in it. Where there are registers it is signed.`

interface Options {
  readonly reason: string
  readonly as?: string
  readonly passphraseFile?: string
  readonly json?: boolean
}

export const command = (): Command =>
  new Command('clock')
    .description('Records that the clock of this computer was wrong.')
    .argument('<job>', 'number of the job')
    .requiredOption('--reason <text>', 'what was wrong with it')
    .option('--as <name>', 'the person who signs, as the register has them')
    .option(
      '--passphrase-file <file>',
      'file whose first line is the passphrase; else TRUELOOP_PASSPHRASE, else asked for'
    )
    .option('--json', 'one JSON document, stated/1, on standard output')
    .addHelpText('after', example)
    .action(run)

async function run(job: string, options: Options): Promise<void> {
  const { as, json = false } = options
  const done = await corrected(job, options)
  const said = { document: 'stated/1', json, refusals: isRefusal(done) ? [done] : [] }
  if (isRefusal(done)) return void say({ ...said, text: [], data: { job } })
  const by = as === undefined ? 'recorded, unsigned' : `recorded and signed by ${as}`
  say({ ...said, text: [`${by}: ${done.added.join(', ')}`], data: { job, added: done.added } })
}

const corrected = (job: string, { as, reason, passphraseFile }: Options): Promise<Result<Decided>> =>
  as === undefined
    ? withArchive((archive) => correctClock(reason, { archive, job }))
    : withSigner(as, { passphraseFile }, (archive, signer) => correctClock(reason, { archive, job, signer }))
