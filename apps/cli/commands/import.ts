import { isRefusal, type Refusal } from '@trueloop/ground/refusal'
import { type Comparison, type Imported, readBundle } from '@trueloop/host/bundle'
import { Command } from 'commander'
import { interrupted } from '../terminal/process.ts'
import { progressLine } from '../terminal/progress.ts'
import { say } from '../terminal/say.ts'
import { withArchive } from '../work/archive.ts'

const example = `
Example:
  trueloop import DEMO-1.zip

All of it is verified before anything is written: the whole job comes in, or nothing. A job that is here already is
brought up to the bundle where its record is the beginning of the bundle's; where both went on, it is refused.`

export const command = (): Command =>
  new Command('import')
    .description('Takes a job in from a ZIP that export wrote.')
    .argument('<file>', 'the ZIP')
    .option('--json', 'one JSON document, import/1, on standard output')
    .addHelpText('after', example)
    .action(async (file: string, { json = false }: { json?: boolean }) => {
      const progress = progressLine()
      const tell = (at: number, of: number) => progress.show(`${at} of ${of} originals`)
      const found = await withArchive((archive) => readBundle(archive, file, { signal: interrupted, tell }))
      progress.clear()
      report(found, file, json)
    })

function report(found: Imported | Refusal, file: string, json: boolean): void {
  const said = { document: 'import/1', json }
  if (isRefusal(found)) return void say({ ...said, refusals: [found], text: [], data: { file } })
  say({ ...said, refusals: [], text: textOf(found), data: { file, ...found } })
}

const standings: Readonly<Record<Comparison['standing'], string>> = {
  'not here': 'taken in',
  'ours is older': 'brought up to the bundle',
  'the same': 'here already, the same; nothing to do',
  'theirs is older': 'here already, with more entries than the bundle; nothing to do',
  forked: 'gone another way'
}

const textOf = ({ job, standing, added, originals, theirs }: Imported): readonly string[] => [
  `job ${job}: ${standings[standing]}`,
  `${added} entries and ${originals} originals added`,
  `chain head of the bundle ${theirs.count}:${theirs.head}`
]
