interface FigureProps {
  /** drawn by this program from numbers and names; its texts are escaped there */
  readonly svg: string
}

/** A drawing that the report has too, in the tones of the page. */
export function Figure({ svg }: FigureProps) {
  // biome-ignore lint/security/noDangerouslySetInnerHtml: made here, of escaped texts; the policy of the page forbids scripts
  return <div className="figure" dangerouslySetInnerHTML={{ __html: svg }} />
}
