/** Rules that every element's shadow root shares: type, controls, focus, hairlines. */
import { css } from 'lit';

export const shared = css`
  :host {
    display: block;
  }

  *,
  *::before,
  *::after {
    box-sizing: border-box;
  }

  a {
    color: var(--link);
    text-decoration-thickness: 1px;
    text-underline-offset: 0.2em;
  }

  h1,
  h2,
  h3 {
    font-family: var(--head-face);
    font-weight: 600;
    line-height: 1.25;
    margin: 0;
    text-wrap: balance;
  }

  p {
    margin: 0;
  }

  button,
  select,
  input,
  textarea {
    font: inherit;
    color: var(--ink);
    background: var(--sheet);
    border: 1px solid var(--rule-strong);
    border-radius: 2px;
    padding: 0.2rem 0.5rem;
    min-height: 1.75rem;
    /* Never wider than its place, however large the letters are set. */
    max-width: 100%;
  }

  button {
    cursor: pointer;
  }

  button:disabled {
    color: var(--ink-soft);
    border-color: var(--rule);
    background: none;
    cursor: default;
  }

  button:hover,
  select:hover {
    background: var(--wash);
  }

  button.quiet,
  button.head {
    border-color: transparent;
    background: none;
    color: var(--link);
    text-decoration: underline;
    text-decoration-thickness: 1px;
    text-underline-offset: 0.2em;
  }

  button.main {
    background: var(--ink);
    border-color: var(--ink);
    color: var(--paper);
  }

  a:focus-visible,
  button:focus-visible,
  select:focus-visible,
  input:focus-visible,
  textarea:focus-visible,
  summary:focus-visible,
  [tabindex]:focus-visible {
    outline: 2px solid var(--focus);
    outline-offset: 2px;
    border-radius: 2px;
  }

  .soft {
    color: var(--ink-soft);
  }

  .unseen {
    position: absolute;
    width: 1px;
    height: 1px;
    overflow: hidden;
    clip-path: inset(50%);
    white-space: nowrap;
  }

  /* The swatch repeats the component's word in colour; the word stands beside it. */
  .component::before {
    content: '';
    display: inline-block;
    width: 0.55em;
    height: 0.55em;
    margin-inline-end: 0.4em;
    background: var(--ink-soft);
    print-color-adjust: exact;
  }

  .component.battery::before {
    background: var(--battery);
  }

  .component.starter::before {
    background: var(--starter);
    border-radius: 50%;
  }

  .component.cables::before {
    background: var(--cables);
  }

  .component.control::before {
    background: var(--control);
  }

  .component.charging::before {
    background: var(--charging);
  }

  dialog {
    color: var(--ink);
    background: var(--sheet);
    border: 1px solid var(--rule-strong);
    border-radius: 2px;
    width: min(34rem, calc(100vw - 2rem));
    padding: 1.25rem 1.5rem;
  }

  dialog::backdrop {
    background: rgb(10 16 20 / 0.45);
  }

  kbd {
    font-family: var(--mono-face);
    font-size: 0.85em;
    border: 1px solid var(--rule-strong);
    border-radius: 2px;
    padding: 0 0.35em;
  }

  code {
    font-family: var(--mono-face);
    font-size: 0.92em;
  }

  @media print {
    .no-print {
      display: none !important;
    }
  }
`;
