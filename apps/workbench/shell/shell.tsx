import { Link, Outlet, useParams } from '@tanstack/react-router'
import { Sender } from '../outbox/sender.tsx'
import { Person } from '../session/person.tsx'
import { WritingBar } from './writing-bar.tsx'

/** The frame of every page: where one is, and how figures are written. */
export function Shell() {
  const { job, of, name } = useParams({ strict: false })
  return (
    <>
      <a className="skip" href="#content">
        To the content
      </a>
      <header className="top">
        <nav className="trail" aria-label="where you are">
          <Link to="/" className="brand" aria-label="Trueloop: all jobs">
            <Sign />
            <span>Trueloop</span>
          </Link>
          {job === undefined ? null : (
            <Link to="/jobs/$job" params={{ job }} className="step">
              {job}
            </Link>
          )}
          {of === undefined || name === undefined ? null : (
            <span className="step here" aria-current="page">
              {of} {name}
            </span>
          )}
        </nav>
        <WritingBar />
        <Person />
      </header>
      <main id="content" tabIndex={-1}>
        <Outlet />
      </main>
      <Sender />
    </>
  )
}

const Sign = () => (
  <svg viewBox="0 0 48 48" width="28" height="28" aria-hidden="true" className="sign">
    <path d="M24 24c7-17 19-11 14-3S17 30 10 27s0-20 14-3z" />
  </svg>
)
