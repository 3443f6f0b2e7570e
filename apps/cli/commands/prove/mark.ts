import { isRefusal } from '@trueloop/ground/refusal'
import { markPractice } from '@trueloop/host/decide'
import { readPlainFile } from '@trueloop/host/sheet'
import { practiceAnswersOf } from '@trueloop/job/prove'
import { Command } from 'commander'
import { type Stating, signedBy, stateAs } from '../../work/stating.ts'
import { refused } from './refused.ts'

interface Options extends Stating {
  readonly answers: string
}

export const marking = (): Command =>
  signedBy(
    new Command('mark')
      .description('Marks the practice that was mixed into a job, by the answers that were kept apart.')
      .argument('<job>', 'number of the job')
      .requiredOption('--answers <file>', 'the answers as "prove mix" wrote them')
  ).action(mark)

async function mark(job: string, options: Options): Promise<void> {
  const { json = false } = options
  const file = await readPlainFile(options.answers, {
    needed: 'the answers as "prove mix" wrote them',
    remedy: 'name the file that was kept apart'
  })
  if ('refusals' in file) return refused(json, file.refusals)
  const read = practiceAnswersOf(file.value)
  if (isRefusal(read)) return refused(json, [file.place(read)])
  await stateAs({ job, options }, (signing) => markPractice(read, signing))
}
