import { ANGLES, angleSentence, crackward } from './angles.ts'
import { cause, PRACTICE } from './cause.ts'
import { grade, weighed } from './criteria.ts'
import { moves, ofLayer, run, wide } from './shapes.ts'
import { declared } from './shared.ts'

const numbers = {
  deviations: ANGLES.deviations,
  angleNone: declared(
    0.4,
    'share of the way from lift-off to the notches',
    'nearer to lift-off it is a mark, not a gap'
  ),
  angleFull: declared(
    0.65,
    'share of the way from lift-off to the notches',
    'as a crack: it is a gap through the layer'
  ),

  layerNone: declared(0.75, 'share of the layer', 'a line that ends within the layer is not the line of a sleeve'),
  layerFull: declared(0.95, 'share of the layer', 'its −6 dB ends lie at the faces, read to a pitch'),
  movesNone: declared(4, 'degrees', 'a line that wanders is not straight'),
  movesFull: declared(2, 'degrees', 'play of the index mark and of the feed'),
  wideNone: declared(2, 'of the notch', 'a gap is narrow'),
  wideFull: declared(1.4, 'of the notch', 'the coil makes its own width of it'),
  runNone: declared(0.5, 'times the rows expected', 'in a thin layer the whole of it is short'),
  runFull: declared(1, 'times the rows expected', 'a layer is at least as long as the flaw sought')
}

export const splitLine = cause({
  name: 'split line of a sleeve',
  alsoCalled: ['split line', 'cold-working split line', 'keyway'],
  class: 'nonrelevant',
  looks:
    'A narrow, straight axial line over the whole layer, at an angle like the notches’, where the work order has the split.',
  source: PRACTICE,
  numbers,
  never: 'only the clock position of the split, known from the work order, tells it from a crack through the layer',
  weigh: (features, v) =>
    weighed([
      {
        what: 'angle',
        share: grade(crackward(features, v.deviations), v.angleNone, v.angleFull),
        sentence: () => angleSentence(features)
      },

      ofLayer(features, { none: v.layerNone, full: v.layerFull }),
      moves(features, { none: v.movesNone, full: v.movesFull }),
      wide(features, { none: v.wideNone, full: v.wideFull }),
      run(features, { none: v.runNone, full: v.runFull })
    ])
})
