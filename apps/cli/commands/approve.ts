import { now } from '@trueloop/host/clock'
import { approveTechnique, attachCapability } from '@trueloop/host/decide'
import { Command } from 'commander'
import { say } from '../terminal/say.ts'
import { demonstrated } from '../work/demonstrated.ts'
import { provedAgain } from '../work/proved-again.ts'
import { type Stating, signedBy, stateAs } from '../work/stating.ts'
import { columnOption } from '../work/studies/options.ts'

const example = `
Examples:
  trueloop approve DEMO-1 --as "C. Level"
  trueloop approve DEMO-1 --capability "corner flaws of 0.8 mm depth: a90/95" --source "report 12" --as "C. Level"
  trueloop approve DEMO-1 --result result.json --rows closed.json --kind corner --as "C. Level"
  trueloop approve DEMO-1 --demonstration "corner cracks of 1.27 mm" --as "C. Level"

Only a Level III approves, and where the technique names one, only that person. With it the method of examination of
this program is accepted for the technique: validate it first. A result of "prove hits" or "prove signals" is worked out
again from its rows before it is attached; notches and simulation are refused.`

interface Options extends Stating {
  readonly capability?: string
  readonly source?: string
  readonly result?: string
  readonly rows?: string
  readonly unit?: string
  readonly kind?: string
  readonly column?: Readonly<Record<string, string>>
  readonly demonstration?: string
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
      .option(
        '--column <name=header>',
        'header of a column, where it is not the name; as often as needed',
        columnOption
      )
      .option('--demonstration <name>', 'a demonstration by counting, as the record of the shop has it')
  )
    .addHelpText('after', example)
    .action(async (job: string, options: Options, self: Command) => {
      const { capability, source } = options
      if ((capability === undefined) !== (source === undefined)) self.error('error: --capability needs --source')
      const { result, rows, unit, kind, column: columns, demonstration } = options
      if ((result === undefined) !== (rows === undefined)) self.error('error: --result needs --rows')
      if (result !== undefined && rows !== undefined)
        return attach(job, await provedAgain({ result, rows, unit, kind, columns }), options)
      if (demonstration !== undefined) return attach(job, await demonstrated(demonstration), options)
      await stateAs({ job, options }, (signing) =>
        capability === undefined || source === undefined
          ? approveTechnique(now().time.slice(0, 10), signing)
          : attachCapability({ words: capability, source }, signing)
      )
    })

type Proved = Awaited<ReturnType<typeof provedAgain>>

/** Refuses before any passphrase is asked for. */
async function attach(job: string, proved: Proved, options: Options): Promise<void> {
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
