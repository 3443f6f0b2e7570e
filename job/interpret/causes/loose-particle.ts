import type { Features } from '../features.ts'
import { angleSentence, crackward, OWN_ANGLE, ofItsOwn } from './angles.ts'
import { cause, PRACTICE } from './cause.ts'
import { type Criterion, grade, weighedFalse } from './criteria.ts'
import { allAround, lone, moves, run, strong, wide } from './shapes.ts'
import { declared } from './shared.ts'

const numbers = {
  ...OWN_ANGLE,
  offNone: declared(
    0.15,
    'share of the way from lift-off to the notches',
    'along lift-off the order of the lobes is that of a bump or of a dent: both occur'
  ),
  offFull: declared(0.3, 'share of the way from lift-off to the notches', 'beyond the spread of lift-off’s own angle'),
  runNone: declared(3.5, 'times the rows expected', 'a run so long is drawn on the wall'),
  runFull: declared(2, 'times the rows expected', 'a chip is a spot: it shows over the footprint and its own length'),
  fewNone: declared(0.55, 'share of the rows expected', 'what stays in its place over half of the rows is of the wall'),
  fewFull: declared(0.35, 'share of the rows expected', 'it was there for a revolution or two'),
  movesNone: declared(3, 'degrees', 'play of the index mark and of the feed'),
  movesFull: declared(8, 'degrees', 'what is loose moves by more than a place on the wall can'),
  wideNone: declared(2.2, 'of the notch', 'a chip is a spot, not a patch'),
  wideFull: declared(1.6, 'of the notch', 'the coil makes its own width of it'),
  loneNone: declared(
    1,
    'of the place',
    'something as strong of the notch’s order lies beside it: it may be the side lobe of that'
  ),
  loneFull: declared(
    0.75,
    'of the place',
    'a lone place answers oppositely by about half of its size, and noise is on it'
  ),
  aroundNone: declared(0.8, 'share of the circumference', 'all around is a face, a joint or noise'),
  aroundFull: declared(0.5, 'share of the circumference', 'some chips, on a restless wall'),
  weak: declared(4, 'signal to noise', 'at the noise the order of two lobes is chance'),
  clear: declared(6, 'signal to noise', 'the order of two lobes is wrong once in thousands')
}

/** Lobes in the reversed order, away from lift-off. */
function reversed(features: Features, { offNone, offFull }: { offNone: number; offFull: number }): Criterion {
  const away = grade(crackward(features, 0), offNone, offFull)
  return {
    what: 'lobe order',
    share: features.lobeOrder === -1 ? away : 0,
    sentence: () =>
      `Its lobes come in the ${features.lobeOrder === 1 ? '' : 'reversed '}order of the notch. ${angleSentence(features)}`
  }
}

const better = (a: Criterion, b: Criterion): Criterion => (a.share >= b.share ? a : b)

/** The one of two ways in which it shows itself that fits better: each is as good as its weaker point. */
const way = (a: readonly [Criterion, Criterion], b: readonly [Criterion, Criterion]): readonly Criterion[] =>
  Math.min(a[0].share, a[1].share) >= Math.min(b[0].share, b[1].share) ? a : b

export const looseParticle = cause({
  name: 'loose particle',
  alsoCalled: ['chip', 'magnetic particle', 'loose chip'],
  class: 'false',
  looks:
    'Lobes in the reversed order of the notch; or an angle that is neither lift-off’s nor the notches’, on few revolutions or moving between them.',
  source: PRACTICE,
  numbers,
  weigh(features, v) {
    const loose = moves(features, { none: v.movesNone, full: v.movesFull })
    const spot = run(features, { none: v.runNone, full: v.runFull })
    const few = run(features, { none: v.fewNone, full: v.fewFull })
    return weighedFalse([
      ...way([reversed(features, v), better(spot, loose)], [ofItsOwn(features, v), better(few, loose)]),
      lone(features, { none: v.loneNone, full: v.loneFull }),
      wide(features, { none: v.wideNone, full: v.wideFull }),
      allAround(features, { none: v.aroundNone, full: v.aroundFull }),
      strong(features, { none: v.weak, full: v.clear })
    ])
  }
})
