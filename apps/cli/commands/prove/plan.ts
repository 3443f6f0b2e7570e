import { isRefusal } from '@trueloop/ground/refusal'
import { program } from '@trueloop/host/chain'
import { readPlainFile } from '@trueloop/host/sheet'
import { demonstrationsOf, lookAtPlan, readShop, type StoredDemonstration, storePlan } from '@trueloop/host/shop'
import { demonstrationBlocks, type PlannedDemonstration } from '@trueloop/job/prove'
import { Command } from 'commander'
import { blocksText } from '../../terminal/blocks.ts'
import { say, table } from '../../terminal/say.ts'
import { withArchive } from '../../work/archive.ts'
import { demonstrationPage } from '../../work/demonstration-page.ts'
import { withSigner } from '../../work/signer.ts'
import { reportOption } from '../../work/studies/options.ts'
import { writtenPage } from '../../work/studies/written.ts'
import { refused } from './refused.ts'

interface Options {
  readonly as?: string
  readonly passphraseFile?: string
  readonly report?: string
  readonly json?: boolean
}

export const planning = (): Command =>
  reportOption(
    new Command('plan')
      .description(
        'Shows what a demonstration by counting could show, and stores its plan; without a file: lists them.'
      )
      .argument('[plan-file]', 'the plan, YAML or JSON')
      .option('--as <name>', 'who signs the plan; without it nothing is stored')
      .option('--passphrase-file <file>', 'file whose first line is the passphrase')
  )
    .option('--json', 'one JSON document, prove/1, on standard output')
    .action((path: string | undefined, options: Options) => (path === undefined ? list(options) : plan(path, options)))

async function plan(path: string, options: Options): Promise<void> {
  const { as, passphraseFile, json = false } = options
  const file = await readPlainFile(path, {
    needed: 'a plan of a demonstration, YAML or JSON in UTF-8',
    remedy: 'correct the path, or the text at this place; the operator guide has a plan to begin with'
  })
  if ('refusals' in file) return refused(json, file.refusals)
  const planned =
    as === undefined
      ? await withArchive(async (archive) => {
          const shop = await readShop(archive)
          return isRefusal(shop) ? shop : lookAtPlan(file.value, shop)
        })
      : await withSigner(as, { passphraseFile }, (archive, signer) => storePlan(file.value, { archive, signer }))
  if (isRefusal(planned)) return refused(json, [planned.where?.file === undefined ? file.place(planned) : planned])
  const { files, refusals } = await writtenPage(demonstrationPage(planned), options)
  say({
    ...{ document: 'prove/1', json, refusals, waiting: as === undefined },
    text: [
      ...blocksText(demonstrationBlocks(planned)),
      storedText(planned, as),
      ...files.map((one) => `written: ${one}`)
    ],
    data: { planned, stored: as !== undefined, program: `${program.name} ${program.version}`, files }
  })
}

const storedText = ({ plan: { name } }: PlannedDemonstration, as: string | undefined): string =>
  as === undefined
    ? 'not stored: a trial counts only by a plan that was stored before it (--as NAME)'
    : `stored and signed by ${as}: ${name}`

async function list({ json = false }: Options): Promise<void> {
  const all = await withArchive(async (archive) => {
    const shop = await readShop(archive)
    return isRefusal(shop) ? shop : demonstrationsOf(shop)
  })
  if (isRefusal(all)) return refused(json, [all])
  const isOpen = ({ outcome }: StoredDemonstration): boolean => outcome === undefined
  say({
    ...{ document: 'prove/1', json, refusals: [], waiting: all.some(isOpen) },
    text:
      all.length === 0
        ? ['no demonstration was ever planned']
        : table([['trial', 'technique', 'stored', 'verdict'], ...all.map(rowOf)]),
    data: { demonstrations: all }
  })
}

const rowOf = ({ plan: { name, technique }, stored, outcome }: StoredDemonstration): readonly string[] => [
  ...[name, technique, stored],
  outcome?.verdict ?? 'not ended'
]
