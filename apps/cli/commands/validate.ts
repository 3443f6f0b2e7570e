import { writeFile } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { now } from '@trueloop/host/clock'
import { makeFolder } from '@trueloop/host/folder'
import { html } from '@trueloop/host/press'
import {
  acceptMethod,
  type MethodAccepted,
  printed,
  type SignedValidation,
  signValidation,
  type Validation,
  validate
} from '@trueloop/host/validate'
import { Command, Option } from 'commander'
import { exit } from '../exit.ts'
import { dataFolder } from '../home.ts'
import { say, table } from '../terminal/say.ts'
import { unwritable } from '../terminal/unreadable.ts'
import { withSigner } from '../work/signer.ts'

const example = `
Examples:
  trueloop validate
  trueloop validate --pdf --as "B. Two"
  trueloop validate --accept "fastener hole" --as "C. Level"

Runs the shipped set: takes as long as the demonstration. With --as the record is signed into the registers of the shop.
A technique that was approved with another method is examined only after a Level III has accepted the method of this
program with --accept, on the strength of the last signed validation on this machine; where the technique names its
approver, that person.`

interface Options {
  readonly out?: string
  readonly pdf?: boolean
  readonly as?: string
  readonly accept?: MethodAccepted['application']
  readonly passphraseFile?: string
  readonly json?: boolean
}

const applications = ['fastener hole', 'weld', 'loop']

export const command = (): Command =>
  new Command('validate')
    .description('Runs the shipped set on this machine and writes a record of installation and performance.')
    .option('--out <file>', 'where to write it, .html; else into the data folder')
    .option('--pdf', 'the same as PDF beside it, with the record inside')
    .option('--as <name>', 'the person who signs it, as the register has them')
    .addOption(
      new Option('--accept <application>', 'accept the method of this program instead; a Level III').choices(
        applications
      )
    )
    .option(
      '--passphrase-file <file>',
      'file whose first line is the passphrase; else TRUELOOP_PASSPHRASE, else asked for'
    )
    .option('--json', 'one JSON document, validate/1, on standard output')
    .addHelpText('after', example)
    .action((options: Options, self: Command) => (options.accept === undefined ? run(options) : accept(options, self)))

async function run(options: Options): Promise<void> {
  const { out, json = false, as } = options
  const validation = await validate(now(), dirname(fileURLToPath(import.meta.url)))
  const signed = as === undefined ? undefined : await sign(validation, as, options)
  const by = isRefusal(signed) ? undefined : signed
  const day = validation.at.time.slice(0, 10)
  const path = out ?? join(dataFolder(), 'reports', `validation-${day}.html`)
  const written = await write(path, { validation, by, pdf: options.pdf === true })
  const { checks, holds } = validation
  say({
    document: 'validate/1',
    json,
    refusals: [...(isRefusal(signed) ? [signed] : []), ...written.filter((one) => isRefusal(one))],
    exit: holds ? undefined : exit.archive,
    text: [
      ...table([['holds', 'check', 'found'], ...checks.map((one) => [one.holds ? 'yes' : 'NO', one.name, one.found])]),
      holds ? 'all checks hold' : 'NOT all checks hold: do not examine with this program on this machine',
      ...(by === undefined ? [] : [`signed by ${by.by} into the record of the shop: ${by.hash}`]),
      ...written.flatMap((one) => (isRefusal(one) ? [] : [`record: ${one}`]))
    ],
    data: { validation, signed: by ?? null, ...filesOf(written) }
  })
}

const sign = (validation: Validation, as: string, { passphraseFile }: Options): Promise<Result<SignedValidation>> =>
  withSigner(as, { passphraseFile }, (archive, signer) => signValidation(validation, { archive, signer }))

const filesOf = (written: readonly Result<string>[]) => {
  const [file = null, pdf = null] = written.map((one) => (isRefusal(one) ? null : one))
  return { file, pdf }
}

interface Writing {
  readonly validation: Validation
  readonly by: SignedValidation | undefined
  readonly pdf: boolean
}

/** The HTML, and the PDF where it is asked for: their paths, or why not. */
async function write(path: string, { validation, by, pdf }: Writing): Promise<readonly Result<string>[]> {
  const record = printed(validation, by)
  const file = await save(path, html(record.page))
  if (!pdf || isRefusal(file)) return [file]
  const bytes = await record.pdf()
  return [file, isRefusal(bytes) ? bytes : await save(`${path.replace(/\.html?$/i, '')}.pdf`, bytes)]
}

async function save(path: string, content: string | Uint8Array): Promise<Result<string>> {
  try {
    await makeFolder(dirname(path))
    await writeFile(path, content)
    return path
  } catch (error) {
    return unwritable(path, error) as Refusal
  }
}

async function accept({ accept: of, as, passphraseFile, json = false }: Options, self: Command): Promise<void> {
  if (as === undefined || of === undefined) return self.error('error: --accept needs --as')
  const done = await withSigner(as, { passphraseFile }, (archive, signer) => acceptMethod(of, { archive, signer }))
  if (isRefusal(done)) return void say({ document: 'validate/1', json, refusals: [done], text: [], data: {} })
  const { application, method, added } = done
  say({
    document: 'validate/1',
    json,
    refusals: [],
    text: [`method ${method} for ${application}: ${added ? 'accepted' : 'accepted before'} by ${as}`],
    data: { accepted: done }
  })
}
