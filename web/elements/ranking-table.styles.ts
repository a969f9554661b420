/** The list as a ledger of columns. On narrow screens and on paper only the arrangement changes: see the files beside. */
import { css } from 'lit';

export const rankingTableStyles = css`
  table {
    width: 100%;
    border-collapse: separate;
    border-spacing: 0;
    table-layout: fixed;
    font-size: 0.8125rem;
    line-height: 1.35;
  }

  thead {
    position: sticky;
    top: 0;
    z-index: 1;
    background: var(--paper);
  }

  th,
  td {
    text-align: start;
    vertical-align: top;
    padding: 0.35rem 0.5rem;
    font-weight: 400;
    overflow-wrap: break-word;
  }

  thead th {
    vertical-align: bottom;
    border-block-end: 3px double var(--rule-strong);
    padding-block: 0.35rem 0.25rem;
  }

  tbody td,
  tbody th {
    border-block-end: 1px solid var(--rule);
  }

  .spacer td {
    padding: 0;
    border: 0;
  }

  button.head {
    display: block;
    padding: 0;
    min-height: 1.5rem;
    text-align: inherit;
    font-size: 0.75rem;
    line-height: 1.2;
    color: var(--ink-soft);
    text-decoration: none;
  }

  button.head:hover {
    text-decoration: underline;
    background: none;
  }

  [aria-sort='ascending'] button.head,
  [aria-sort='descending'] button.head {
    color: var(--ink);
  }

  .why:is(th),
  .decide:is(th) {
    font-size: 0.75rem;
    color: var(--ink-soft);
    padding-block-end: 0.5rem;
  }

  .second {
    display: block;
    color: var(--ink-soft);
    font-size: 0.75rem;
  }

  .rank,
  .chance,
  .cost {
    text-align: end;
  }

  .chance .second {
    white-space: nowrap;
  }

  thead .rank button,
  thead .chance button,
  thead .cost button {
    margin-inline-start: auto;
  }

  /* A long number without a blank must not claim a column as wide as itself. */
  .unit {
    overflow-wrap: anywhere;
  }

  .unit a {
    font-weight: 600;
  }

  .act.book_now {
    font-weight: 700;
  }

  .act.measure_first {
    font-weight: 600;
  }

  .act.leave {
    color: var(--ink-soft);
  }

  .cost {
    border-inline: 1px solid var(--rule);
  }

  .when {
    padding-inline: 0.75rem;
  }

  .decide button {
    font-size: 0.75rem;
    min-height: 1.5rem;
    padding: 0.05rem 0.45rem;
  }

  .decided {
    display: block;
    font-size: 0.75rem;
  }

  tbody tr:hover {
    background: var(--sheet);
  }

  tbody tr[aria-current] {
    background: var(--wash);
  }

  tbody tr[aria-current] > :first-child {
    box-shadow: inset 3px 0 var(--ink);
  }

  tbody tr:focus-visible {
    outline: 2px solid var(--focus);
    outline-offset: -2px;
  }

  tr.deferred > :not(.decide) {
    color: var(--ink-soft);
  }

  @media screen and (min-width: 75.01rem) {
    th.rank {
      width: 2.75rem;
    }

    th.unit {
      width: 6.75rem;
    }

    th.place {
      width: 8rem;
    }

    th.part {
      width: 5.75rem;
    }

    th.action {
      width: 8.25rem;
    }

    th.chance {
      width: 9.25rem;
    }

    th.cost {
      width: 4.75rem;
    }

    th.why {
      width: 19.5rem;
    }

    th.decide {
      width: 7.25rem;
      white-space: nowrap;
    }
  }
`;
