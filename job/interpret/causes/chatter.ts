import type { Features } from '../features.ts'
import { ANGLES, alongLiftOff } from './angles.ts'
import { cause, PRACTICE } from './cause.ts'
import { type Criterion, grade, weighed } from './criteria.ts'
import { allAround, run } from './shapes.ts'
import { declared } from './shared.ts'

const numbers = {
  ...ANGLES,
  shareNone: declared(0.25, 'share of power', 'noise in a band of some twenty lines leaves a fifth to its strongest'),
  shareFull: declared(0.5, 'share of power', 'half of what the wall shows stands in one line'),
  sizeNone: declared(0.35, 'of the place', 'a place that stands three times above the comb is another thing on it'),
  sizeFull: declared(0.6, 'of the place', 'the comb itself, with noise on its crests'),
  runNone: declared(0.6, 'times the rows expected', 'a comb at a face alone is of the face'),
  runFull: declared(1.5, 'times the rows expected', 'a tool chatters over a layer'),
  aroundNone: declared(0.4, 'share of the circumference', 'a patch'),
  aroundFull: declared(0.7, 'share of the circumference', 'a comb stands all around')
}

function line({ comb }: Features, { shareNone, shareFull }: { shareNone: number; shareFull: number }): Criterion {
  return {
    what: 'comb',
    share: grade(comb.share, shareNone, shareFull),
    sentence: () =>
      `${Math.round(100 * comb.share)} % of what the wall shows stands in one line of ${comb.perTurn} a revolution.`
  }
}

function height(
  { comb, matched }: Features,
  { sizeNone, sizeFull }: { sizeNone: number; sizeFull: number }
): Criterion {
  return {
    what: 'comb size',
    share: matched > 0 ? grade(comb.size / matched, sizeNone, sizeFull) : 0,
    sentence: () => `That line is ${comb.size.toFixed(2)} strong; the place answers by ${matched.toFixed(2)}.`
  }
}

export const chatter = cause({
  name: 'chatter',
  alsoCalled: ['chatter marks'],
  class: 'damage, not a crack',
  looks: 'A regular comb all around the circumference, like lift-off, so many lobes a revolution.',
  source: PRACTICE,
  numbers,
  weigh: (features, v) =>
    weighed([
      alongLiftOff(features, v),
      line(features, v),
      height(features, v),
      run(features, { none: v.runNone, full: v.runFull }),
      allAround(features, { none: v.aroundNone, full: v.aroundFull })
    ])
})
