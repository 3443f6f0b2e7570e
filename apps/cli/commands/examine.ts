import type { Alike } from '@trueloop/job/examine'
import { alikeText } from '@trueloop/job/record'
import { Command } from 'commander'
import { exit } from '../exit.ts'
import { say } from '../terminal/say.ts'
import { outcomeLines, summaryText } from '../terminal/summary.ts'
import { type Led, leadThrough } from '../work/chain.ts'

const example = `
Examples:
  trueloop examine job.yaml
  trueloop examine job.yaml --hole W-01
  trueloop examine job.yaml --json | jq '.summary.counts'

Where the sheet says otherwise of a recording than the record, that is a correction: in an archive with registers somebody
signs it (--as). Every recording is recorded as soon as it is examined. Run it again after an interruption: it goes on where it stopped.`

interface Options {
  readonly hole?: string
  readonly as?: string
  readonly passphraseFile?: string
  readonly json?: boolean
}

export const command = (): Command =>
  new Command('examine')
    .description(
      'Examines the recordings of a job sheet in their order and records what was found, and what was not examined.'
    )
    .argument('<job-sheet>', 'job sheet, YAML or JSON')
    .option('--hole <name>', 'only this hole (track, place), with the reference scans and rechecks')
    .option('--as <name>', 'the person who signs what the sheet corrects, where the archive has registers')
    .option(
      '--passphrase-file <file>',
      'file whose first line is the passphrase; else TRUELOOP_PASSPHRASE, else asked for'
    )
    .option('--json', 'one JSON document, examine/1, on standard output')
    .addHelpText('after', example)
    .action(async (path: string, { hole, json = false, ...signing }: Options) => {
      const led = await leadThrough(path, hole === undefined ? {} : { subject: hole }, signing)
      say({
        document: 'examine/1',
        json,
        refusals: led.refusals,
        exit: led.interrupted ? exit.interrupted : undefined,
        waiting: led.summary?.waiting ?? false,
        text: textOf(led),
        data: {
          ...{ outcomes: led.outcomes, summary: led.summary ?? null },
          ...{ interrupted: led.interrupted, notes: led.notes ?? [], alike: (led.alike ?? []).map(alikeRow) }
        }
      })
    })

const textOf = ({ outcomes, summary, interrupted, notes = [], alike = [] }: Led): readonly string[] => [
  ...notes,
  ...outcomes.flatMap(outcomeLines),
  ...(interrupted ? ['interrupted: what is listed is recorded; run the command again to go on'] : []),
  ...(summary === undefined ? [] : ['', ...summaryText(summary)]),
  ...alike.map(alikeText)
]

const alikeRow = ({ one, other, agreement, limit }: Alike) => ({
  ...{ holes: [one.subject, other.subject], files: [one.file, other.file], agreement, limit }
})
