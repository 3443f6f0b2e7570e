import { useQuery } from '@tanstack/react-query'
import { useEffect, useRef, useState } from 'react'
import { Trouble } from '../shell/refusals.tsx'
import type { Drawing } from './drawings.ts'

interface PictureProps {
  readonly job: string
  readonly drawing: Drawing
  readonly page: number
  /** how many pages it has */
  pages(count: number): void
  /** its height over its width */
  shape(ratio: number): void
}

const addressOf = (job: string, { sha256 }: Drawing): string =>
  `/api/jobs/${encodeURIComponent(job)}/drawings/${sha256}`

/** A drawing or photo, as an image and no more: nothing that an SVG or a PDF holds is run. */
export function Picture(props: PictureProps) {
  const { drawing } = props
  return drawing.form === 'application/pdf' ? <PdfPage {...props} /> : <Image {...props} />
}

function Image({ job, drawing, pages, shape }: PictureProps) {
  const [failed, setFailed] = useState(false)
  if (failed)
    return <Trouble error={new Error(`${drawing.file} can not be shown: it is not the picture it seems to be`)} />
  return (
    <img
      src={addressOf(job, drawing)}
      alt={drawing.title ?? drawing.file}
      draggable={false}
      onError={() => setFailed(true)}
      onLoad={({ currentTarget: { naturalWidth, naturalHeight } }) => {
        pages(1)
        // an SVG that states no size has none
        shape(naturalWidth > 0 && naturalHeight > 0 ? naturalHeight / naturalWidth : 0.75)
      }}
    />
  )
}

function PdfPage({ job, drawing, page, pages, shape }: PictureProps) {
  const canvas = useRef<HTMLCanvasElement>(null)
  const { data, error } = useQuery({
    queryKey: ['drawing', job, drawing.sha256],
    // loaded only where a PDF is shown: it is larger than all the rest of the page
    queryFn: async () => (await import('./pdf.ts')).openPdf(addressOf(job, drawing)),
    staleTime: Number.POSITIVE_INFINITY,
    gcTime: 0,
    structuralSharing: false
  })
  const [trouble, setTrouble] = useState<unknown>()
  useEffect(() => {
    const { current } = canvas
    if (data === undefined || current === null) return
    const end = new AbortController()
    pages(data.pages)
    data.draw(Math.min(page, data.pages), current, end.signal).then(shape, setTrouble)
    return () => end.abort()
  }, [data, page, pages, shape])
  useEffect(() => () => data?.close(), [data])
  if (error !== null || trouble !== undefined) return <Trouble error={error ?? trouble} />
  return <canvas ref={canvas} role="img" aria-label={`${drawing.title ?? drawing.file}, page ${page}`} />
}
