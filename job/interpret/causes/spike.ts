import { cause, PRACTICE } from './cause.ts'
import { weighedFalse } from './criteria.ts'
import { run, sharp, wide } from './shapes.ts'
import { declared } from './shared.ts'

const numbers = {
  sharpNone: declared(0.15, 'share of energy', 'noise in the band rides on every loop'),
  sharpFull: declared(
    0.35,
    'share of energy',
    'a third of the energy above the notch’s band can not come through the coil'
  ),
  wideNone: declared(0.85, 'of the notch', 'a lobe spacing is read to about a tenth'),
  wideFull: declared(0.55, 'of the notch', 'the coil makes no lobes so near to each other'),
  runNone: declared(
    0.55,
    'share of the rows expected',
    'what the wall itself shows comes again on half of its revolutions'
  ),
  runFull: declared(0.35, 'share of the rows expected', 'one revolution alone')
}

export const spike = cause({
  name: 'spike',
  alsoCalled: ['electrical spike'],
  class: 'false',
  looks: 'Far narrower than any pulse that the coil can make, on one revolution.',
  source: PRACTICE,
  numbers,
  weigh: (features, v) =>
    weighedFalse([
      sharp(features, { none: v.sharpNone, full: v.sharpFull }),
      wide(features, { none: v.wideNone, full: v.wideFull }),
      run(features, { none: v.runNone, full: v.runFull })
    ])
})
