import { mkdir, writeFile } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import type { Refusal } from '@trueloop/ground/refusal'
import { program } from '@trueloop/host/chain'
import { now } from '@trueloop/host/clock'
import { html } from '@trueloop/host/press'
import { type Validation, validate, validationBlocks } from '@trueloop/host/validate'
import { Command } from 'commander'
import { exit } from '../exit.ts'
import { dataFolder } from '../home.ts'
import { say, table } from '../terminal/say.ts'
import { unwritable } from '../terminal/unreadable.ts'

const example = `
Examples:
  trueloop validate
  trueloop validate --out installation.html

Runs the shipped set: takes as long as the demonstration. A Level III approves a technique with the method of this
program only after that.`

interface Options {
  readonly out?: string
  readonly json?: boolean
}

export const command = (): Command =>
  new Command('validate')
    .description('Runs the shipped set on this machine and writes a record of installation and performance.')
    .option('--out <file>', 'where to write it; else into the data folder')
    .option('--json', 'one JSON document, validate/1, on standard output')
    .addHelpText('after', example)
    .action(run)

async function run({ out, json = false }: Options): Promise<void> {
  const validation = await validate(now(), dirname(fileURLToPath(import.meta.url)))
  const day = validation.at.time.slice(0, 10)
  const path = out ?? join(dataFolder(), 'reports', `validation-${day}.html`)
  const no = await write(path, validation)
  const { checks, holds } = validation
  say({
    document: 'validate/1',
    json,
    refusals: no === undefined ? [] : [no],
    exit: holds ? undefined : exit.archive,
    text: [
      ...table([['holds', 'check', 'found'], ...checks.map((one) => [one.holds ? 'yes' : 'NO', one.name, one.found])]),
      holds ? 'all checks hold' : 'NOT all checks hold: do not examine with this program on this machine',
      ...(no === undefined ? [`record: ${path}`] : [])
    ],
    data: { validation, file: no === undefined ? path : null }
  })
}

async function write(path: string, validation: Validation): Promise<Refusal | undefined> {
  const page = { title: 'Record of installation and performance', blocks: validationBlocks(validation) }
  try {
    await mkdir(dirname(path), { recursive: true })
    await writeFile(path, html({ ...page, footer: `${program.name} ${program.version}` }))
    return undefined
  } catch (error) {
    return unwritable(path, error)
  }
}
