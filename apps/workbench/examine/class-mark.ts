import type { Surface } from '../plot/canvas.tsx'
import type { ClassName } from './map-scene.ts'

interface ClassDrawing {
  readonly name: ClassName
  readonly x: number
  readonly y: number
  /** by a person; a proposal is drawn open */
  readonly decided: boolean
}

const radius = 8

/** The class of an indication as a shape: told apart without color. */
export function classMark({ c, tones }: Surface, { name, x, y, decided }: ClassDrawing): void {
  Object.assign(c, { strokeStyle: tones.sheet, lineWidth: 5 })
  shape(c, name, x, y)
  c.stroke()
  Object.assign(c, { strokeStyle: tones.ink, fillStyle: tones.ink, lineWidth: 2 })
  shape(c, name, x, y)
  c.stroke()
  if (name === 'relevant') c.fill()
  if (name === 'undecided') {
    c.beginPath()
    c.arc(x, y, radius, -Math.PI / 2, Math.PI / 2)
    c.fill()
  }
  if (name === 'nonrelevant') {
    c.beginPath()
    c.moveTo(x - 4, y)
    c.lineTo(x + 4, y)
    c.stroke()
  }
  c.setLineDash([])
  if (decided) tick(c, x, y)
}

function shape(c: CanvasRenderingContext2D, name: ClassName, x: number, y: number): void {
  c.setLineDash(name === 'false' ? [3, 3] : [])
  c.beginPath()
  if (name === 'relevant') {
    c.moveTo(x, y - radius)
    c.lineTo(x + radius, y + radius - 1)
    c.lineTo(x - radius, y + radius - 1)
    c.closePath()
  } else if (name === 'damage, not a crack') {
    c.rect(x - radius + 1, y - radius + 1, 2 * radius - 2, 2 * radius - 2)
  } else {
    c.arc(x, y, radius, 0, 2 * Math.PI)
  }
}

function tick(c: CanvasRenderingContext2D, x: number, y: number): void {
  c.beginPath()
  c.moveTo(x + 5, y + 7)
  c.lineTo(x + 9, y + 11)
  c.lineTo(x + 15, y + 2)
  c.stroke()
}
