import { isRefusal, type Refusal } from '@trueloop/ground/refusal'
import { type BackedUp, backUp, type Drilled, drill } from '@trueloop/host/bundle'
import { Command } from 'commander'
import { interrupted } from '../terminal/process.ts'
import { progressLine } from '../terminal/progress.ts'
import { say, table } from '../terminal/say.ts'
import { withArchive } from '../work/archive.ts'

const example = `
Examples:
  trueloop backup BACKUP-FOLDER
  trueloop backup BACKUP-FOLDER --drill

Done again into the same folder, only what is new is copied; all of it is read and hashed again. A drill writes no
backup: it restores the one that is there into a temporary folder and says what that has shown.`

interface Options {
  readonly drill?: boolean
  readonly json?: boolean
}

export const command = (): Command =>
  new Command('backup')
    .description('Copies the whole archive into a folder and verifies the copy, or shows that it can be restored.')
    .argument('<folder>', 'folder of the backup, on another disk')
    .option('--drill', 'restore the backup into a temporary folder, verify every job, compare with the archive')
    .option('--json', 'one JSON document, backup/1, on standard output')
    .addHelpText('after', example)
    .action(async (folder: string, { drill: isDrill = false, json = false }: Options) => {
      const progress = progressLine()
      const how = { signal: interrupted, tell: progress.show }
      if (isDrill) report(await withArchive((archive) => drill(archive, folder, how)), folder, drillSaid, json)
      else report(await withArchive((archive) => backUp(archive, folder, how)), folder, backupSaid, json)
      progress.clear()
    })

interface Found {
  readonly waiting: boolean
  readonly text: readonly string[]
}

function report<T extends object>(
  found: T | Refusal,
  folder: string,
  saidOf: (found: T) => Found,
  json: boolean
): void {
  const said = { document: 'backup/1', json }
  if (isRefusal(found)) return void say({ ...said, refusals: [found], text: [], data: { folder } })
  say({ ...said, refusals: [], ...saidOf(found), data: { folder, ...found } })
}

const backupSaid = ({ jobs, copied, there, bytes }: BackedUp): Found => ({
  waiting: false,
  text: [
    `backed up: ${jobs.length} jobs, ${copied} originals copied, ${there} there before, ${bytes} bytes in all`,
    'Every job was verified before; entries and documents of the copy were compared with the archive one by one, and',
    'every original in the folder was read again and hashed. That it can be restored is shown by --drill.'
  ]
})

function drillSaid(found: Drilled): Found {
  const { jobs, originals, made, compared, shop, notInBackup } = found
  const behind = [...compared, shop].filter(({ standing }) => standing === 'theirs is older')
  return {
    waiting: behind.length + notInBackup.length > 0,
    text: [
      `Restored into a temporary folder: the backup of ${made.time}, ${jobs.length} jobs, ${originals} originals.`,
      'Every file had the hash of its name. Of every job chain, documents and originals were verified there, and hold.',
      ...table([['job', 'entries', 'head in the backup', 'archive'], ...compared.map(comparedCells)]),
      `registers: ${shop.theirs.count} entries, in the archive ${standingText(shop)}`,
      ...notInBackup.map((job) => `job ${job} is not in this backup`),
      behind.length + notInBackup.length === 0
        ? 'Shown: all that the archive holds now can be restored from this folder.'
        : 'Shown: the archive as it was then can be restored from this folder. What came later can not: back up again.'
    ]
  }
}

const comparedCells = ({ job, ours, theirs, standing }: Drilled['compared'][number]): readonly string[] => [
  job,
  String(theirs.count),
  theirs.head,
  standingText({ ours, theirs, standing })
]

const standingText = ({ ours, theirs, standing }: Pick<Drilled['shop'], 'ours' | 'theirs' | 'standing'>): string =>
  standing === 'the same' ? 'the same' : `${ours.count - theirs.count} entries more`
