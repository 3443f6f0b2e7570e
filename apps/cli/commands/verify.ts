import { existsSync } from 'node:fs'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { Archive } from '@trueloop/host/archive'
import { checkBundle, openBundle } from '@trueloop/host/bundle'
import { checkJob } from '@trueloop/host/chain'
import { checkShop } from '@trueloop/host/shop'
import type { Fault, Verification } from '@trueloop/job/record'
import { Command, InvalidArgumentError } from 'commander'
import { exit } from '../exit.ts'
import { interrupted } from '../terminal/process.ts'
import { say } from '../terminal/say.ts'
import { withArchive } from '../work/archive.ts'
import { noSuchJob } from '../work/job.ts'

const example = `
Examples:
  trueloop verify DEMO-1
  trueloop verify DEMO-1 --again
  trueloop verify DEMO-1 --head 42:9f86d081…
  trueloop verify DEMO-1.zip
  trueloop verify --registers

Verdicts, none of which stands for another. Intact: chain, documents and originals are the bytes that were
written. Replayed: examined again by the same method, the findings are equal to the bit. Another method: what differs is
listed, and is no fault. Registers: who signed stood in the registers of the shop then, with that key; of a ZIP, and in an
archive without registers, that is not checked, and said so.`

interface Options {
  readonly registers?: boolean
  readonly again?: boolean
  readonly head?: { count: number; head: string }
  readonly json?: boolean
}

export const command = (): Command =>
  new Command('verify')
    .description('Checks that the record of a job, its documents and its original recordings are as they were written.')
    .argument('[job]', 'number of the job, or the ZIP that export wrote: it is verified without taking it in')
    .option('--again', 'examine every recording once more and compare the findings')
    .option('--head <entries:hash>', 'end of the chain as a printed report has it', headOf)
    .option('--registers', 'check the record of the registers: every entry, its signature, its right')
    .option('--json', 'one JSON document, verify/1, on standard output')
    .addHelpText('after', example)
    .action(async (job: string | undefined, options: Options, self: Command) => {
      if (options.registers === true) return reportRegisters(await withArchive(checkShop), options.json === true)
      if (job === undefined) return self.error('error: name a job, or --registers')
      const isFile = /\.zip$/i.test(job) && existsSync(job)
      const found = isFile ? await checkFile(job, options) : await inArchive(job, options)
      report(found, job, options.json === true)
    })

const inArchive = (job: string, options: Options): Promise<Result<Checked>> =>
  withArchive((archive) => check(archive, job, options))

function headOf(text: string): { count: number; head: string } {
  const [, count, head] = /^(\d+):([0-9a-f]{64})$/.exec(text) ?? []
  if (count === undefined || head === undefined)
    throw new InvalidArgumentError('needed: number of entries, a colon and 64 hex digits, as the report prints them')
  return { count: Number(count), head }
}

/** `otherwise`: files of a bundle that do not follow from its record by this program. */
type Checked = Verification & { readonly otherwise?: readonly string[] }

const checking = ({ again, head }: Options) => ({
  again: again === true,
  ...(head === undefined ? {} : { printed: head })
})

/** Opening a bundle refuses whatever is not sound in it; then the verdicts are as on a job. */
async function checkFile(file: string, options: Options): Promise<Result<Checked>> {
  const bundle = await openBundle(file, interrupted)
  if (isRefusal(bundle)) return bundle
  try {
    return { ...(await checkBundle(bundle, checking(options))), otherwise: bundle.otherwise }
  } finally {
    await bundle.close()
  }
}

async function check(archive: Archive, job: string, options: Options): Promise<Result<Checked>> {
  const end = await archive.end(job)
  if (isRefusal(end)) return end
  if (end.count === 0) return noSuchJob(archive, job)
  return checkJob(archive, job, checking(options))
}

function report(found: Result<Checked>, job: string, json: boolean): void {
  if (isRefusal(found)) return void say({ document: 'verify/1', json, refusals: [found], text: [], data: { job } })
  const isSound =
    found.intact.holds &&
    found.registers.faults.length === 0 &&
    (!found.replayed.asked || found.replayed.faults.length === 0)
  const { otherwise = [] } = found
  const sound = otherwise.length > 0 ? exit.waiting : exit.done
  const said = { document: 'verify/1', json, refusals: [], exit: isSound ? sound : exit.archive }
  say({ ...said, text: [...textOf(found), ...otherwise.map(otherwiseLine)], data: { job, ...found } })
}

const textOf = ({ intact, replayed, anotherMethod, registers }: Verification): readonly string[] => [
  intact.holds ? 'intact: chain, documents and originals are the bytes that were written' : 'NOT intact',
  ...intact.faults.map(faultLine),
  ...(intact.entriesSincePrinted > 0 ? [`  ${intact.entriesSincePrinted} entries were added since that report`] : []),
  replayedLine(replayed),
  ...replayed.faults.map(faultLine),
  ...registersLines(registers),
  ...anotherMethod.flatMap(({ seq, recorded, now, differences }) => [
    `another method: entry ${seq} by method ${recorded}, now ${now}; ${differences.length} differences`,
    ...differences.slice(0, 20).map(({ path, was, now: is }) => `  ${path}: was ${was}, is ${is}`)
  ])
]

/** Of a job in which nobody has signed anything there is nothing to say. */
function registersLines({ checked, why, signatures, faults }: Verification['registers']): readonly string[] {
  if (!checked) {
    return signatures === 0 ? [] : [`${signatures} signatures, not checked against a register: ${why}`]
  }
  const verdict =
    faults.length === 0
      ? `registers: ${signatures} signatures, each by a person as the register had them then`
      : 'NOT as the registers have it'
  return [verdict, ...faults.map(faultLine)]
}

const otherwiseLine = (name: string): string =>
  `look at ${name}: this program writes it otherwise from the same record; another version wrote it, or somebody changed it`

function reportRegisters(found: Result<readonly Fault[]>, json: boolean): void {
  if (isRefusal(found)) return void say({ document: 'verify/1', json, refusals: [found], text: [], data: {} })
  const holds = found.length === 0
  const verdict = holds ? 'intact: every entry of the registers is as it was written and signed' : 'NOT intact'
  const said = { document: 'verify/1', json, refusals: [], exit: holds ? exit.done : exit.archive }
  say({ ...said, text: [verdict, ...found.map(faultLine)], data: { registers: { holds, faults: found } } })
}

const faultLine = ({ place, found, needed }: Verification['intact']['faults'][number]): string =>
  `  ${place}: found ${found}; needed ${needed}`

function replayedLine({ asked, count, faults }: Verification['replayed']): string {
  if (!asked) return 'not replayed: --again examines every recording once more'
  return faults.length === 0 ? `replayed: ${count} examinations, findings equal to the bit` : 'NOT replayed'
}
