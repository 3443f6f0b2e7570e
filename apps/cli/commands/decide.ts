import { cutHole, decide, lookAgain } from '@trueloop/host/decide'
import type { Disposition } from '@trueloop/job/record'
import { Command, InvalidArgumentError, Option } from 'commander'
import { positive } from '../work/numbers.ts'
import { type Stating, signedBy, stateAs } from '../work/stating.ts'

const example = `
Examples:
  trueloop decide DEMO-1 P03 --class P03/1=nonrelevant --reason "a score, seen with the borescope" --as "B. Two"
  trueloop decide DEMO-1 P02 --disposition "clean-up ream" --as "B. Two"
  trueloop decide DEMO-1 P02 --disposition "clean-up ream" --size 6.75 --as "B. Two"
  trueloop decide DEMO-1 P02 --second-look agrees --as "D. Other"
  trueloop decide DEMO-1 P02 --reamed 6.75 --as "B. Two"

The program proposes; the person who signs decides. A downgrade needs a reason, and so does another size than the
proposed one: without --size the arithmetic of a clean-up ream is shown, and nothing is recorded. record JOB --findings lists what waits.`

const classes = ['false', 'nonrelevant', 'damage, not a crack', 'relevant'] as const
type Class = (typeof classes)[number]
const dispositions: readonly Disposition[] = ['no recordable indication', 'clean-up ream', 'reject', 'refer']

interface Classed {
  readonly indication: string
  readonly class: Class
}

interface Options extends Stating {
  readonly class: readonly Classed[]
  readonly disposition?: Disposition
  readonly size?: number
  readonly secondLook?: 'agrees' | 'disagrees'
  readonly reamed?: number
  readonly tool?: string
  readonly reason?: string
}

export const command = (): Command =>
  signedBy(
    new Command('decide')
      .description(
        'Records what a person decides of a place: classes of indications, its disposition, a second look, a cut.'
      )
      .argument('<job>', 'number of the job')
      .argument('<place>', 'hole, track or place')
      .option('--class <indication=class>', `class of an indication: ${classes.join(', ')}`, classed, [])
      .addOption(new Option('--disposition <disposition>', 'what is done about the place').choices(dispositions))
      .option('--size <mm>', 'size of the clean-up ream', positive)
      .addOption(
        new Option('--second-look <verdict>', 'what another person says of what was decided').choices([
          ...['agrees', 'disagrees']
        ])
      )
      .option('--reamed <mm>', 'the hole was cut, aimed at this diameter', positive)
      .option('--tool <name>', 'what it was cut with')
      .option('--reason <text>', 'why')
  )
    .addHelpText('after', example)
    .action(run)

function classed(text: string, before: readonly Classed[]): readonly Classed[] {
  const at = text.indexOf('=')
  const said = classes.find((one) => one === text.slice(at + 1))
  if (at < 1 || said === undefined) {
    throw new InvalidArgumentError(`needed: INDICATION=CLASS, where CLASS is one of ${classes.join(', ')}`)
  }
  return [...before, { indication: text.slice(0, at), class: said }]
}

async function run(job: string, place: string, options: Options, self: Command): Promise<void> {
  const { class: said, disposition, size, secondLook, reamed, tool, reason } = options
  const asked = [said.length > 0 || disposition !== undefined, secondLook !== undefined, reamed !== undefined]
  if (asked.filter(Boolean).length !== 1) {
    self.error('error: say one thing: classes and disposition, or a second look, or a cut')
  }
  if (size !== undefined && disposition !== 'clean-up ream') self.error('error: --size goes with a clean-up ream')
  const why = reason === undefined ? {} : { reason }
  await stateAs({ job, options, places: [place] }, (signing) => {
    if (secondLook !== undefined) return lookAgain({ place, agrees: secondLook === 'agrees', ...why }, signing)
    if (reamed !== undefined) {
      return cutHole({ place, aimed_mm: reamed, ...(tool === undefined ? {} : { tool }) }, signing)
    }
    const what = {
      ...(disposition === undefined ? {} : { disposition }),
      ...(size === undefined ? {} : { size_mm: size })
    }
    return decide({ place, classes: said, ...what, ...why }, signing)
  })
}
