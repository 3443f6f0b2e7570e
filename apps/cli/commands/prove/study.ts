import { readPlainFile } from '@trueloop/host/sheet'
import { Command } from 'commander'
import { blocksText } from '../../terminal/blocks.ts'
import { say } from '../../terminal/say.ts'
import type { StudyDoor } from '../../work/studies/door.ts'
import { type Asked, fromOf, pointsOption, reportOption, rowsOptions } from '../../work/studies/options.ts'
import { written } from '../../work/studies/written.ts'
import { refused } from './refused.ts'

/** The command of one kind of study. */
export const studying = (door: StudyDoor): Command =>
  (door.hasPoints ? pointsOption : (command: Command) => command)(
    reportOption(
      rowsOptions(
        new Command(door.name)
          .description(door.summary)
          .argument('<study-file>', 'what is asked, YAML or JSON: fixed before anybody looks')
          .argument('<rows>', `${door.takesTrial ? 'a closed trial (.json), or ' : ''}a table (CSV): ${door.table}`)
      )
    )
  )
    .option('--out <file>', 'where the result goes, JSON: it can be worked out again from that and the rows')
    .option('--json', 'one JSON document, prove/1, on standard output')
    .action((study: string, rows: string, asked: Asked) => work(door, { study, rows }, asked))

interface Files {
  readonly study: string
  readonly rows: string
}

async function work(door: StudyDoor, { study: path, rows }: Files, asked: Asked): Promise<void> {
  const { json = false } = asked
  const study = await readPlainFile(path, {
    needed: 'a study, YAML or JSON in UTF-8',
    remedy: 'correct the path, or the text at this place; the operator guide has a study to begin with'
  })
  if ('refusals' in study) return refused(json, study.refusals)
  const worked = await door.work(study.value, fromOf(rows, asked))
  if ('refusals' in worked)
    return refused(
      json,
      worked.refusals.map((one) => (one.where?.file === undefined ? study.place(one) : one))
    )
  const { files, refusals } = await written(worked, asked)
  const text = [...(worked.text ?? blocksText(worked.blocks)), ...files.map((file) => `written: ${file}`)]
  const data = { result: worked.result, files }
  say({ document: 'prove/1', json, refusals, waiting: !worked.isStated, text, data })
}
