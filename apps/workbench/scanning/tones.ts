/** Two tones that can't be taken for each other in a noisy hangar: rising for complete, falling and longer for scan again. */
const tones = {
  complete: [
    [660, 0.14],
    [990, 0.22]
  ],
  'scan again': [
    [440, 0.3],
    [220, 0.5],
    [220, 0.5]
  ]
} as const

let context: AudioContext | undefined

/** Browsers let a page sound only after a person has done something in it. */
export function allowSound(): void {
  context ??= new AudioContext()
  void context.resume()
}

export function sound(which: keyof typeof tones): void {
  if (context === undefined) return
  let at = context.currentTime
  for (const [hertz, seconds] of tones[which]) {
    const tone = new OscillatorNode(context, { frequency: hertz, type: 'triangle' })
    const volume = new GainNode(context, { gain: 0.5 })
    volume.gain.setTargetAtTime(0, at + 0.7 * seconds, 0.03)
    tone.connect(volume).connect(context.destination)
    tone.start(at)
    tone.stop(at + seconds)
    at += seconds + 0.06
  }
}
