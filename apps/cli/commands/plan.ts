import { isRefusal, type Refusal } from '@trueloop/ground/refusal'
import type { Archive } from '@trueloop/host/archive'
import { type Opened, openJob } from '@trueloop/host/chain'
import type { Signer } from '@trueloop/host/keys'
import { responsesOf, type Sheet, sheetJsonSchema } from '@trueloop/job/plan'
import { Command } from 'commander'
import { line, say } from '../terminal/say.ts'
import { withArchive } from '../work/archive.ts'
import { sheetInput } from '../work/chain.ts'
import { sayPlanned } from '../work/settings.ts'
import { withSigner } from '../work/signer.ts'

const example = `
Examples:
  trueloop plan job.yaml
  trueloop plan --schema > job-1.schema.json
  trueloop plan job.yaml --correct "serial number of the component was wrong"
  trueloop plan draft.yaml --settings
  trueloop plan draft.yaml --settings --beside other.yaml
  trueloop plan draft.yaml --settings --sweep sweeps.csv --sheet technique.pdf

With --settings the field is worked out for the technique (probe, metals, flaw sought) and nothing is recorded: what is
proposed there is no setting before a named Level III has confirmed it.`

interface Options {
  readonly json?: boolean
  readonly schema?: boolean
  readonly correct?: string
  readonly as?: string
  readonly passphraseFile?: string
  readonly settings?: boolean
  readonly beside?: string
  readonly sweep?: string
  readonly sheet?: string
}

export const command = (): Command =>
  new Command('plan')
    .description('Checks a job sheet, says what it plans, and opens its job: documents and confirmation are recorded.')
    .argument('[job-sheet]', 'job sheet, YAML or JSON')
    .option('--schema', 'print the JSON Schema of a job sheet')
    .option('--correct <reason>', 'correct what the record says of the job by what the sheet says now')
    .option('--as <name>', 'the person who signs a correction, where the archive has registers')
    .option(
      '--passphrase-file <file>',
      'file whose first line is the passphrase; else TRUELOOP_PASSPHRASE, else asked for'
    )
    .option('--settings', 'work out settings from the field; nothing is recorded')
    .option('--beside <job-sheet>', 'with --settings: those of another job sheet beside them')
    .option('--sweep <file>', 'with --settings: sweeps of frequency, lift-off, conductivity and depth, as CSV')
    .option('--sheet <file>', 'with --settings: the technique sheet, .html or .pdf')
    .option('--json', 'one JSON document on standard output: plan/1, or settings/1')
    .addHelpText('after', example)
    .action(async (path: string | undefined, options: Options, self: Command) => {
      if (options.schema === true) return line(JSON.stringify(sheetJsonSchema(), null, 2))
      if (path === undefined) self.error('error: name a job sheet')
      const { settings = false, json = false, beside, sweep, sheet } = options
      if (settings) return sayPlanned(path, { json, beside, sweep, sheet })
      if (beside ?? sweep ?? sheet) self.error('error: --beside, --sweep and --sheet go with --settings')
      await plan(path, options)
    })

async function plan(path: string, { json = false, correct, as, passphraseFile }: Options): Promise<void> {
  const input = await sheetInput(path)
  if ('refusals' in input) return refuse(json, input.refusals)
  const opening = (archive: Archive, signer?: Signer) =>
    openJob({ ...input, archive, ...(signer === undefined ? {} : { signer }) }, correct)
  const opened =
    as === undefined
      ? await withArchive((archive) => opening(archive))
      : await withSigner(as, { passphraseFile }, (archive, signer) => opening(archive, signer))
  if (isRefusal(opened)) return refuse(json, [opened])
  const { open } = opened
  say({
    document: 'plan/1',
    json,
    refusals: [],
    waiting: open !== undefined,
    text: textOf(input.sheet, opened, open),
    data: { ...opened, plan: planned(input.sheet), open: open ?? null }
  })
}

const refuse = (json: boolean, refusals: readonly Refusal[]): void =>
  void say({ document: 'plan/1', json, refusals, text: [], data: {} })

const placesOf = (sheet: Sheet): number =>
  'holes' in sheet ? sheet.holes.length : 'tracks' in sheet ? sheet.tracks.length : sheet.recordings.length

const planned = (sheet: Sheet) => ({
  component: sheet.job.component,
  application: sheet.technique.application,
  procedure: sheet.technique.procedure,
  demonstration: sheet.job.demonstration,
  places: placesOf(sheet),
  recordings: sheet.recordings.length
})

const textOf = (sheet: Sheet, opened: Opened, open: Refusal | undefined): readonly string[] => {
  const { application, procedure } = sheet.technique
  return [
    `job ${opened.job}: ${sheet.job.component}`,
    ...(sheet.job.demonstration ? ['DEMONSTRATION: invented data, never to be signed off'] : []),
    `technique: ${application}, procedure ${procedure.id}, revision ${procedure.revision}`,
    `  document ${opened.technique}`,
    ...standardLines(sheet, opened),
    ...responseLines(sheet),
    `planned: ${placesOf(sheet)} places, ${sheet.recordings.length} recordings`,
    ...unknownSetUp(sheet),
    open === undefined ? confirmedLine(sheet) : `not confirmed: ${open.remedy}`,
    opened.added.length === 0 ? 'recorded before; nothing added' : `recorded: ${opened.added.join(', ')}`
  ]
}

const standardLines = (sheet: Sheet, { standard }: Opened): readonly string[] =>
  'reference_standard' in sheet ? [`reference standard: ${sheet.reference_standard.id}`, `  document ${standard}`] : []

function responseLines(sheet: Sheet): readonly string[] {
  const { ratios, studies } = responsesOf(sheet)
  const line = (what: string, { name, approved }: (typeof ratios | typeof studies)[number]): string =>
    `${what}: ${name}, approved by ${approved.by}, level ${approved.level}, on ${approved.on}`
  return [...ratios.map((one) => line('response ratio', one)), ...studies.map((one) => line('response study', one))]
}

const confirmedLine = ({ confirmed }: Sheet): string =>
  `confirmed by ${confirmed?.by}, level ${confirmed?.level}, on ${confirmed?.on}; unsigned`

function unknownSetUp({ equipment }: Sheet): readonly string[] {
  const unknown = Object.entries(equipment).filter(([, value]) => value === 'unknown')
  if (unknown.length === 0) return []
  return [`set-up not known: ${unknown.map(([key]) => key).join(', ')}; sizes and proposals will be withheld`]
}
