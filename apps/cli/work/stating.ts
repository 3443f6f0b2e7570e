import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { Archive } from '@trueloop/host/archive'
import { summaryOf } from '@trueloop/host/chain'
import type { Decided, Signing } from '@trueloop/host/decide'
import { replay } from '@trueloop/job/record'
import { type Command, Option } from 'commander'
import { say } from '../terminal/say.ts'
import { withSigner } from './signer.ts'

/** What a person states at the command line: signed with their key, said in the words of the record. */

export interface Stating {
  readonly as: string
  readonly passphraseFile?: string
  readonly json?: boolean
}

/** The options of every command by which a person states something. */
export const signedBy = (command: Command): Command =>
  command
    .addOption(new Option('--as <name>', 'the person who signs, as the register has them').makeOptionMandatory())
    .option(
      '--passphrase-file <file>',
      'file whose first line is the passphrase; else TRUELOOP_PASSPHRASE, else asked for'
    )
    .option('--json', 'one JSON document, stated/1, on standard output')

export interface Statement {
  readonly job: string
  readonly options: Stating
  /** places to say the state of afterward; absent: none */
  readonly places?: readonly string[]
}

/** Unlocks the key, states, and says what was recorded and how the places stand. */
export async function stateAs(
  { job, options, places = [] }: Statement,
  work: (signing: Signing) => Promise<Result<Decided>>
): Promise<void> {
  const { as, passphraseFile, json = false } = options
  const done = await withSigner(as, { passphraseFile }, async (archive, signer) => {
    const stated = await work({ archive, job, signer })
    return isRefusal(stated) ? stated : after(archive, job, stated)
  })
  const said = { document: 'stated/1', json, refusals: [] }
  if (isRefusal(done)) return void say({ ...said, refusals: [done], text: [], data: { job } })
  const { added, summary, lines = [] } = done
  const shown = summary.places.filter(({ name }) => places.includes(name))
  say({
    ...said,
    text: [
      ...lines,
      `recorded and signed by ${as}: ${added.join(', ')}`,
      ...shown.map(({ of, name, state }) => `${of} ${name}: ${state}`)
    ],
    data: { job, added, places: shown, lines, head: summary.head }
  })
}

async function after(archive: Archive, job: string, { added, lines = [] }: Decided) {
  const rows = await archive.entries(job)
  return isRefusal(rows) ? rows : { added, lines, summary: summaryOf(replay(rows)) }
}
