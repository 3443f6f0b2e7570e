import { randomFrom } from '@trueloop/ground/numerics'
import { isRefusal } from '@trueloop/ground/refusal'
import { program } from '@trueloop/host/chain'
import { readPlainFile } from '@trueloop/host/sheet'
import { sizeBlocks, sizeUncertainty } from '@trueloop/job/prove'
import { Command } from 'commander'
import { blocksText } from '../../terminal/blocks.ts'
import { say } from '../../terminal/say.ts'
import { type Asked, reportOption } from '../../work/studies/options.ts'
import { writtenPage } from '../../work/studies/written.ts'
import { refused } from './refused.ts'

export const sizing = (): Command =>
  reportOption(
    new Command('size')
      .description('Says how uncertain a size is that was read off a curve, with its budget.')
      .argument('<question-file>', 'amplitude, curve and what makes them uncertain, YAML or JSON')
  )
    .option('--out <file>', 'where the result goes, JSON: it can be worked out again from that alone')
    .option('--json', 'one JSON document, prove/1, on standard output')
    .action(size)

async function size(path: string, asked: Pick<Asked, 'out' | 'report' | 'json'>): Promise<void> {
  const { json = false } = asked
  const question = await readPlainFile(path, {
    needed: 'a question of uncertainty, YAML or JSON in UTF-8',
    remedy: 'correct the path, or the text at this place; the operator guide has one to begin with'
  })
  if ('refusals' in question) return refused(json, question.refusals)
  const found = sizeUncertainty(question.value, randomFrom)
  if (isRefusal(found)) return refused(json, [question.place(found)])
  const by = `${program.name} ${program.version}`
  const result = { program: by, ...found }
  const blocks = sizeBlocks(found)
  const origin = `seed ${found.asked.seed} · method ${found.method} · ${by}`
  const { files, refusals } = await writtenPage({ name: found.asked.name, blocks, origin, result }, asked)
  const text = [...blocksText(blocks), ...files.map((file) => `written: ${file}`)]
  say({ document: 'prove/1', json, refusals, waiting: !found.stated.isSettled, text, data: { result, files } })
}
