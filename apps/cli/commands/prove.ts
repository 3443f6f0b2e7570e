import { Command } from 'commander'
import { studyDoors } from '../work/studies/index.ts'
import { again } from './prove/again.ts'
import { building } from './prove/build.ts'
import { closing } from './prove/close.ts'
import { judging } from './prove/judge.ts'
import { marking } from './prove/mark.ts'
import { mixing } from './prove/mix.ts'
import { monitoring } from './prove/monitor.ts'
import { looking } from './prove/outlook.ts'
import { planning } from './prove/plan.ts'
import { sizing } from './prove/size.ts'
import { studying } from './prove/study.ts'

const example = `
Examples:
  trueloop prove build trial.yaml --into trial --answers ../kept/answers.json
  trueloop prove close trial --answers ../kept/answers.json trial/*.csv --out closed.json
  trueloop prove hits study.yaml closed.json --kind corner
  trueloop prove signals study.yaml signals.csv --unit mm --column size=depth --report signals.pdf
  trueloop prove again result.json closed.json --kind corner

Sizes and the places that hold nothing are kept apart until the trial is closed. A place that was not examined is neither
hit nor miss. Only real specimens prove a capability; notches and simulation never do.`

export const command = (): Command => {
  const prove = new Command('prove').description(
    'Says what size of flaw is found, and how well people and instruments agree.'
  )
  for (const one of [
    looking(),
    building(),
    closing(),
    ...studyDoors.map(studying),
    again(),
    planning(),
    judging(),
    mixing(),
    marking(),
    monitoring(),
    sizing()
  ])
    prove.addCommand(one)
  return prove.addHelpText('after', example)
}
