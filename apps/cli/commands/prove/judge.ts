import { isRefusal, type Refusal } from '@trueloop/ground/refusal'
import { program } from '@trueloop/host/chain'
import { readPlainFile } from '@trueloop/host/sheet'
import { judgeStored } from '@trueloop/host/shop'
import { closedLooksOf, demonstrationBlocks, type FlawKind, type TrialRow } from '@trueloop/job/prove'
import { Command } from 'commander'
import { blocksText } from '../../terminal/blocks.ts'
import { say } from '../../terminal/say.ts'
import { demonstrationPage } from '../../work/demonstration-page.ts'
import { lookRows } from '../../work/look-rows.ts'
import { withSigner } from '../../work/signer.ts'
import { reportOption } from '../../work/studies/options.ts'
import { writtenPage } from '../../work/studies/written.ts'
import { refused } from './refused.ts'

interface Options {
  readonly as: string
  readonly passphraseFile?: string
  readonly kind?: string
  readonly out?: string
  readonly report?: string
  readonly json?: boolean
}

export const judging = (): Command =>
  reportOption(
    new Command('judge')
      .description('Judges a demonstration by the plan that was stored before it, once.')
      .argument('<name>', 'name of the trial, as its plan has it')
      .argument('<rows>', 'a closed trial (.json), or a table (CSV): site, hit, at')
      .requiredOption('--as <name>', 'who signs the verdict')
      .option('--kind <kind>', 'of a closed trial: corner, mid-bore or through')
      .option('--passphrase-file <file>', 'file whose first line is the passphrase')
      .option('--out <file>', 'where plan and outcome go, JSON')
  )
    .option('--json', 'one JSON document, prove/1, on standard output')
    .action(judge)

async function judge(name: string, path: string, options: Options): Promise<void> {
  const { as, passphraseFile, json = false } = options
  const rows = await looksIn(path, options.kind)
  if ('refusals' in rows) return refused(json, rows.refusals)
  const by = `${program.name} ${program.version}`
  const judged = await withSigner(as, { passphraseFile }, (archive, signer) =>
    judgeStored({ name, rows: rows.rows, program: by }, { archive, signer })
  )
  if (isRefusal(judged)) return refused(json, [judged])
  const { planned, outcome } = judged
  const { files, refusals } = await writtenPage(demonstrationPage(planned, outcome), options)
  say({
    ...{ document: 'prove/1', json, refusals, waiting: outcome.verdict !== 'demonstrated' },
    text: [
      ...blocksText(demonstrationBlocks(planned, outcome)),
      `recorded and signed by ${as}`,
      ...files.map((one) => `written: ${one}`)
    ],
    data: { planned, outcome, files }
  })
}

type Looks = { readonly rows: readonly TrialRow[] } | { readonly refusals: readonly Refusal[] }

async function looksIn(path: string, kind: string | undefined): Promise<Looks> {
  if (!/\.json$/i.test(path)) return lookRows(path)
  const file = await readPlainFile(path, {
    needed: 'a closed trial, or a table as CSV',
    remedy: 'name the file that "prove close" wrote'
  })
  if ('refusals' in file) return file
  const looks = closedLooksOf(file.value, kind as FlawKind | undefined)
  return 'refusals' in looks ? { refusals: looks.refusals.map(file.place) } : looks
}
