import type { ClassName } from './map-scene.ts'

interface SignProps {
  readonly name: ClassName
  readonly decided: boolean
}

/** The same shapes as on the map; the word stands beside it. */
export function ClassSign({ name, decided }: SignProps) {
  return (
    <svg viewBox="0 0 28 20" width="28" height="20" className="class-sign" aria-hidden="true">
      {shapes[name]}
      {decided ? <path d="m16 13 4 4 6-9" className="line" /> : null}
    </svg>
  )
}

const circle = (dashed: boolean) => <circle cx="10" cy="10" r="8" className={dashed ? 'line dashed' : 'line'} />

const shapes = {
  relevant: <path d="M10 2 18 17H2z" className="fill" />,
  undecided: (
    <>
      {circle(false)}
      <path d="M10 2a8 8 0 0 1 0 16z" className="fill" />
    </>
  ),
  'damage, not a crack': <rect x="3" y="3" width="14" height="14" className="line" />,
  nonrelevant: (
    <>
      {circle(false)}
      <path d="M6 10h8" className="line" />
    </>
  ),
  false: circle(true)
} as const
