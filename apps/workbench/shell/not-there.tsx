import { Link } from '@tanstack/react-router'

export function NotThere() {
  return (
    <div className="page">
      <h1>Nothing at this address</h1>
      <p>
        The address names no page of this workbench. <Link to="/">All jobs</Link>
      </p>
    </div>
  )
}
