import { now } from '@trueloop/host/clock'
import { approveTechnique, attachCapability } from '@trueloop/host/decide'
import { Command } from 'commander'
import { say } from '../terminal/say.ts'
import { provedAgain, type ResultFiles } from '../work/proved-again.ts'
import { type Stating, signedBy, stateAs } from '../work/stating.ts'

const example = `
Examples:
  trueloop approve DEMO-1 --as "C. Level"
  trueloop approve DEMO-1 --capability "corner flaws of 0.8 mm depth: a90/95" --source "report 12" --as "C. Level"
  trueloop approve DEMO-1 --result result.json --rows closed.json --kind corner --as "C. Level"

Only a Level III approves, and where the technique names one, only that person. With it the method of examination of
this program is accepted for the technique: validate it first. A result of "prove hits" is worked out again from its rows
before it is attached; notches and simulation are refused.`

interface Options extends Stating {
  readonly capability?: string
  readonly source?: string
  readonly result?: string
  readonly rows?: string
  readonly unit?: string
  readonly kind?: string
}

export const command = (): Command =>
  signedBy(
    new Command('approve')
      .description('Approves the technique of a job, or attaches what was demonstrated for its set-up.')
      .argument('<job>', 'number of the job')
      .option('--capability <text>', 'what was demonstrated, with its figures')
      .option('--source <text>', 'report of the demonstration')
      .option('--result <file>', 'result of "prove hits" to attach, in place of words')
      .option('--rows <file>', 'the rows that the result was made from')
      .option('--unit <unit>', 'unit of their sizes, where the table has no column for it')
      .option('--kind <kind>', 'of a closed trial: corner, mid-bore or through')
  )
    .addHelpText('after', example)
    .action(async (job: string, options: Options, self: Command) => {
      const { capability, source } = options
      if ((capability === undefined) !== (source === undefined)) self.error('error: --capability needs --source')
      const { result, rows, unit, kind } = options
      if ((result === undefined) !== (rows === undefined)) self.error('error: --result needs --rows')
      if (result !== undefined && rows !== undefined) return attach(job, { result, rows, unit, kind }, options)
      await stateAs({ job, options }, (signing) =>
        capability === undefined || source === undefined
          ? approveTechnique(now().time.slice(0, 10), signing)
          : attachCapability({ words: capability, source }, signing)
      )
    })

/** Refuses before any passphrase is asked for. */
async function attach(job: string, from: ResultFiles, options: Options): Promise<void> {
  const proved = await provedAgain(from)
  if ('refusals' in proved)
    return void say({
      document: 'stated/1',
      json: options.json ?? false,
      refusals: proved.refusals,
      text: [],
      data: { job }
    })
  await stateAs({ job, options }, (signing) => attachCapability(proved.attachable, signing))
}
