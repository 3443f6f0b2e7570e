import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { today } from '@trueloop/host/clock'
import { readRowsFile } from '@trueloop/host/sheet'
import { type RegisteredRows, readShop, strikeOff } from '@trueloop/host/shop'
import { isDay, type RegisterName, registerNames, rowsJsonSchema } from '@trueloop/job/plan'
import { Command, InvalidArgumentError, Option } from 'commander'
import { dataFolder } from '../home.ts'
import { listData, listText } from '../terminal/registers.ts'
import { line, say } from '../terminal/say.ts'
import { withArchive } from '../work/archive.ts'
import { registerFile } from '../work/registering.ts'
import { withSigner } from '../work/signer.ts'

const example = `
Examples:
  trueloop register
  trueloop register --on 2026-12-31
  trueloop register people.yaml --as "C. Level"
  trueloop register --strike P-635-1 --what probe --reason "coil worn through" --as "C. Level"

The first to register must be of Level III and registers themself; their key is made then. The passphrase is asked for
in the terminal, or taken from the first line of --passphrase-file, or from TRUELOOP_PASSPHRASE.`

interface Options {
  readonly as?: string
  readonly on?: string
  readonly strike?: string
  readonly what?: RegisterName
  readonly reason?: string
  readonly from?: string
  readonly passphraseFile?: string
  readonly schema?: boolean
  readonly json?: boolean
}

export const command = (): Command =>
  new Command('register')
    .description('Registers people, equipment, reference standards and procedures; without a file: lists them.')
    .argument('[file]', 'rows for the registers, YAML or JSON')
    .option('--as <name>', 'who signs')
    .option('--on <day>', 'the day for which the list is made; else today', dayOf)
    .option('--strike <name>', 'strike off what bears this name')
    .addOption(new Option('--what <register>', 'in which register').choices(registerNames))
    .option('--from <day>', 'from which day on it is struck off; else today', dayOf)
    .option('--reason <text>', 'why it is struck off')
    .option('--passphrase-file <file>', 'file whose first line is the passphrase')
    .option('--schema', 'print the JSON Schema of a file of rows')
    .option('--json', 'one JSON document, register/1, on standard output')
    .addHelpText('after', example)
    .action(register)

function dayOf(text: string): string {
  if (!/^\d{4}-\d\d-\d\d$/.test(text) || !isDay(text))
    throw new InvalidArgumentError('needed: a day of the calendar, written as 2026-03-14')
  return text
}

async function register(file: string | undefined, options: Options, self: Command): Promise<void> {
  const { as, strike, what, reason, json = false } = options
  if (options.schema === true) return line(JSON.stringify(rowsJsonSchema(), null, 2))
  if (file === undefined && strike === undefined) return list(options)
  if (as === undefined) return self.error('error: say who signs: --as NAME')
  if (file !== undefined) return rows(file, as, options)
  if (strike === undefined || what === undefined || reason === undefined)
    return self.error('error: say what is struck off and why: --what, --reason')
  const { from = today(), passphraseFile } = options
  const struck = await withSigner(as, { passphraseFile }, (archive, signer) =>
    strikeOff({ what, name: strike, from, reason }, { archive, signer })
  )
  const data = { struckOff: { what, name: strike, from, reason } }
  tell(struck, json, { text: [`struck off from ${from} on: ${what} ${strike}`], data })
}

async function rows(file: string, as: string, { passphraseFile, json = false }: Options): Promise<void> {
  const read = await readRowsFile(file)
  if ('refusals' in read) return refused(read.refusals, json)
  const done = await registerFile({ home: dataFolder(), as, ...read, passphraseFile })
  tell(done, json, isRefusal(done) ? nothing : { text: addedText(done), data: { ...done } })
}

const nothing = { text: [], data: {} }

const addedText = ({ added, unchanged }: RegisteredRows): readonly string[] => [
  ...added.map(({ what, name }) => `registered: ${what} ${name}`),
  ...unchanged.map(({ what, name }) => `stood there before: ${what} ${name}`)
]

async function list({ on = today(), json = false }: Options): Promise<void> {
  const shop = await withArchive(readShop)
  if (isRefusal(shop)) return refused([shop], json)
  const data = listData(shop.registers, on)
  say({
    document: 'register/1',
    json,
    refusals: [],
    waiting: data.due.length > 0,
    text: listText(data),
    data: { ...data }
  })
}

interface Told {
  readonly text: readonly string[]
  readonly data: Readonly<Record<string, unknown>>
}

const tell = (done: Result<unknown>, json: boolean, { text, data }: Told): void =>
  isRefusal(done) ? refused([done], json) : void say({ document: 'register/1', json, refusals: [], text, data })

const refused = (refusals: readonly Refusal[], json: boolean): void =>
  void say({ document: 'register/1', json, refusals, text: [], data: {} })
