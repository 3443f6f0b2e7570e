import { cause, PRACTICE } from './cause.ts'
import { weighedFalse } from './criteria.ts'
import { like, repeats, run } from './shapes.ts'
import { declared } from './shared.ts'

const numbers = {
  runNone: declared(
    0.55,
    'share of the rows expected',
    'what the wall itself shows comes again on half of its revolutions'
  ),
  runFull: declared(0.35, 'share of the rows expected', 'one revolution alone, where four or five would see a flaw'),
  repeatNone: declared(0.5, 'likeness', 'half alike from revolution to revolution is of the wall'),
  repeatFull: declared(0.2, 'likeness', 'what two loops of noise share in a band of a few lobes'),
  likeNone: declared(0.8, 'share of energy', 'so much of the notch’s shape seldom comes about by chance'),
  likeFull: declared(
    0.55,
    'share of energy',
    'noise that was picked for its likeness still leaves about half unexplained'
  )
}

export const electricalNoise = cause({
  name: 'electrical noise',
  alsoCalled: ['noise', 'brush noise', 'slip-ring noise'],
  class: 'false',
  looks: 'On one revolution only, at a place and an angle of its own, not in the shape of the notch.',
  source: PRACTICE,
  numbers,
  weigh: (features, v) =>
    weighedFalse([
      run(features, { none: v.runNone, full: v.runFull }),
      repeats(features, { none: v.repeatNone, full: v.repeatFull }),
      like(features, { none: v.likeNone, full: v.likeFull })
    ])
})
