import { isRefusal, type Refusal } from '@trueloop/ground/refusal'
import { type Restored, restoreInto } from '@trueloop/host/bundle'
import { Command } from 'commander'
import { archiveFolder } from '../home.ts'
import { interrupted } from '../terminal/process.ts'
import { progressLine } from '../terminal/progress.ts'
import { say, table } from '../terminal/say.ts'

const example = `
Example:
  trueloop restore BACKUP-FOLDER --into NEW-HOME

Every file is hashed and every job verified before the archive appears. TRUELOOP_HOME then names the new data folder.`

export const command = (): Command =>
  new Command('restore')
    .description('Puts a backup back as the archive of an empty data folder.')
    .argument('<folder>', 'folder of the backup')
    .requiredOption('--into <folder>', 'data folder that is empty or not there yet')
    .option('--json', 'one JSON document, restore/1, on standard output')
    .addHelpText('after', example)
    .action(async (folder: string, { into, json = false }: { into: string; json?: boolean }) => {
      const progress = progressLine()
      const found = await restoreInto(folder, archiveFolder(into), { signal: interrupted, tell: progress.show })
      progress.clear()
      report(found, { folder, into }, json)
    })

function report(found: Restored | Refusal, where: { folder: string; into: string }, json: boolean): void {
  const said = { document: 'restore/1', json }
  if (isRefusal(found)) return void say({ ...said, refusals: [found], text: [], data: where })
  say({ ...said, refusals: [], text: textOf(found, where.into), data: { ...where, ...found } })
}

const textOf = ({ jobs, originals, made }: Restored, into: string): readonly string[] => [
  `restored: the backup of ${made.time}, ${jobs.length} jobs, ${originals} originals, every job verified`,
  ...table([['job', 'entries', 'head'], ...jobs.map(({ id, count, head }) => [id, String(count), head])]),
  `data folder: ${into}`
]
