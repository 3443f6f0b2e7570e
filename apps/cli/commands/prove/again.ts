import { isRefusal } from '@trueloop/ground/refusal'
import { readPlainFile } from '@trueloop/host/sheet'
import { differing, resultOf } from '@trueloop/job/prove'
import { Command } from 'commander'
import { say } from '../../terminal/say.ts'
import { doorOf } from '../../work/studies/index.ts'
import { type Asked, fromOf, reportOption, rowsOptions } from '../../work/studies/options.ts'
import { written } from '../../work/studies/written.ts'
import { refused } from './refused.ts'

export const again = (): Command =>
  reportOption(
    rowsOptions(
      new Command('again')
        .description('Works a result out again from its rows, and says whether every figure comes out the same.')
        .argument('<result>', 'the result, as --out wrote it')
        .argument('<rows>', 'the rows that it was made from')
    )
  )
    .option('--json', 'one JSON document, prove/1, on standard output')
    .action(workAgain)

async function workAgain(path: string, rows: string, asked: Asked): Promise<void> {
  const { json = false } = asked
  const file = await readPlainFile(path, {
    needed: 'a result as "prove" wrote it',
    remedy: 'name the file that was written with --out'
  })
  if ('refusals' in file) return refused(json, file.refusals)
  const before = resultOf(file.value)
  if (isRefusal(before)) return refused(json, [file.place(before)])
  const found = await doorOf(before).again(before, fromOf(rows, asked))
  if ('refusals' in found) return refused(json, found.refusals)
  if (!found.same) return refused(json, [file.place(differing())])
  const { files, refusals } = await written(found, asked)
  say({
    ...{ document: 'prove/1', json, refusals },
    text: [`the same, every figure: ${before.study.name}`, ...files.map((one) => `written: ${one}`)],
    data: { same: true, files }
  })
}
