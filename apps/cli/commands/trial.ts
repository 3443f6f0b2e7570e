import { isRefusal, type Refusal } from '@trueloop/ground/refusal'
import { Command } from 'commander'
import { exit } from '../exit.ts'
import { interrupted, outcome } from '../terminal/process.ts'
import { line, say, table } from '../terminal/say.ts'
import { type HeldJob, heldJob, plateau, type Shifted } from '../trial/plateau.ts'
import { plateauLines, shiftedLine } from '../trial/plateau-text.ts'
import { runTrialJob, trialJobs } from '../trial/run.ts'
import { figuresOf, type ScoredJob, scoreOf, type TrialScore } from '../trial/score.ts'
import { sizeLines } from '../trial/text.ts'
import { weldPlateau } from '../trial/weld/plateau.ts'
import { type ScoredWelds, scoredWelds, scoreOfWelds, weldFiguresOf } from '../trial/weld/score.ts'
import { weldLines } from '../trial/weld/text.ts'

const example = `
Examples:
  trueloop trial ../shared/trial
  trueloop trial ../shared/trial --json | tail -n 1`

export const command = (): Command =>
  new Command('trial')
    .description(
      'Examines the trial recordings with technique and equipment from their setup.json, and prints the score.'
    )
    .argument('<folder>', 'folder of the trial recordings')
    .option('--json', 'end with one line of JSON')
    .option(
      '--plateau',
      'move every declared number to 0.8 and 1.25 times its value, one at a time, and print the score of each'
    )
    .addHelpText('after', example)
    .action(async (folder: string, { json = false, plateau = false }: { json?: boolean; plateau?: boolean }) => {
      const names = await trialJobs(folder)
      if (isRefusal(names)) return refused([names])
      if (plateau) return printPlateau(folder, names)
      const jobs: ScoredJob[] = []
      for (const name of names.holes) {
        if (interrupted.aborted) return void Object.assign(outcome, { exit: exit.interrupted })
        const job = await runTrialJob(folder, name)
        if ('refusals' in job) return refused(job.refusals)
        jobs.push(job)
      }
      const welds: ScoredWelds[] = []
      for (const name of names.welds) {
        const job = await scoredWelds(folder, name)
        if (isRefusal(job)) return refused([job])
        welds.push(job)
      }
      const score = scoreOf(jobs)
      if (jobs.length > 0) for (const text of textOf(jobs, score)) line(text)
      for (const job of welds) for (const text of weldLines(job)) line(text)
      const ofWelds = scoreOfWelds(welds)
      const told = ofWelds === undefined ? {} : { welds: weldFiguresOf(ofWelds) }
      if (json) line(JSON.stringify({ ...figuresOf(score), ...told }))
    })

interface Named {
  readonly holes: readonly string[]
  readonly welds: readonly string[]
}

/** Each declared number moved alone, and the least and most of every count. */
async function printPlateau(folder: string, names: Named): Promise<void> {
  for (const name of names.welds) {
    const job = await scoredWelds(folder, name)
    if (isRefusal(job)) return refused([job])
    for (const text of weldPlateau(job)) {
      if (interrupted.aborted) return void Object.assign(outcome, { exit: exit.interrupted })
      if (isRefusal(text)) return refused([text])
      line(text)
    }
  }
  const jobs: HeldJob[] = []
  for (const name of names.holes) jobs.push(await heldJob(folder, name))
  const all: Shifted[] = []
  for (const one of plateau(jobs)) {
    if (interrupted.aborted) return void Object.assign(outcome, { exit: exit.interrupted })
    all.push(one)
    line(shiftedLine(one))
  }
  for (const text of plateauLines(all)) line(text)
}

const refused = (refusals: readonly Refusal[]): void =>
  void say({ document: 'trial/1', json: false, refusals, text: [], data: {} })

const textOf = (jobs: readonly ScoredJob[], score: TrialScore): readonly string[] => [
  ...table([
    ['hole', 'flaws', 'indications', 'not examined, reason'],
    ...jobs.flatMap(({ outcomes }) => outcomes.map(holeRow))
  ]),
  '',
  `found: ${score.found} of ${score.flaws} flaws`,
  `falsely called: ${score.falselyCalledHoles} of ${score.holes} holes${list(score.falselyCalled)}`,
  `undecided elsewhere: ${score.undecidedElsewhere}`,
  `faults of the equipment caught: ${score.faultsCaught} of ${score.faults}`,
  `sound, but not examined: ${score.soundNotExamined.length}${list(score.soundNotExamined)}`,
  `depth: ${figure(score.depthMae_mm)} over ${score.depthScored}`,
  `length: ${figure(score.lengthMae_mm)} over ${score.lengthScored}`,
  `bounds: ${score.boundsTrue} of ${score.bounds} true`,
  ...sizeLines(score),
  `voided by a recheck: ${score.voidedHoles.join(', ') || 'none'}`
]

const figure = (mae: number | undefined): string =>
  mae === undefined ? 'no value given' : `mean absolute error ${mae.toFixed(3)} mm`

const list = (names: readonly string[]): string => (names.length === 0 ? '' : ` (${names.join(', ')})`)

const holeRow = ({ hole, truth, calls, notExamined }: ScoredJob['outcomes'][number]): readonly string[] => [
  hole,
  String(truth.flaws.length),
  calls.map(({ verdict, angle_deg, z_mm }) => `${verdict} ${angle_deg.toFixed(0)}° ${z_mm.toFixed(1)} mm`).join('; '),
  [...new Set(notExamined)].join(', ')
]
