import { now } from '@trueloop/host/clock'
import { approveTechnique, attachCapability } from '@trueloop/host/decide'
import { Command } from 'commander'
import { type Stating, signedBy, stateAs } from '../work/stating.ts'

const example = `
Examples:
  trueloop approve DEMO-1 --as "C. Level"
  trueloop approve DEMO-1 --capability "corner flaws of 0.8 mm depth: a90/95" --source "report 12" --as "C. Level"

Only a Level III approves, and where the technique names one, only that person. With it the method of examination of
this program is accepted for the technique: validate it first.`

interface Options extends Stating {
  readonly capability?: string
  readonly source?: string
}

export const command = (): Command =>
  signedBy(
    new Command('approve')
      .description('Approves the technique of a job, or attaches what was demonstrated for its set-up.')
      .argument('<job>', 'number of the job')
      .option('--capability <text>', 'what was demonstrated, with its figures')
      .option('--source <text>', 'report of the demonstration')
  )
    .addHelpText('after', example)
    .action(async (job: string, options: Options, self: Command) => {
      const { capability, source } = options
      if ((capability === undefined) !== (source === undefined)) self.error('error: --capability needs --source')
      await stateAs({ job, options }, (signing) =>
        capability === undefined || source === undefined
          ? approveTechnique(now().time.slice(0, 10), signing)
          : attachCapability({ words: capability, source }, signing)
      )
    })
