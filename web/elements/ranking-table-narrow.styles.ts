/** The list on narrow screens: two lines a row, and a stack for the phone. */
import { css } from 'lit';

export const rankingTableNarrow = css`
  /* The columns that sort are then chosen above the list; of the head only the axis stays. */
  @media screen and (max-width: 75rem) {
    table,
    thead,
    tbody,
    caption {
      display: block;
    }

    tr,
    tr.spacer td {
      display: block;
    }

    thead tr > :not(.when),
    thead .when button {
      display: none;
    }

    thead th.when {
      display: block;
      /* The same as in the rows, so that the axis stands over its drawings. */
      padding-inline: 0.75rem;
    }

    tbody tr:not(.spacer) {
      display: grid;
      /* Of equal width in every row, whatever stands in it. */
      grid-template-columns:
        2.75rem minmax(0, 0.8fr) minmax(0, 1fr) minmax(0, 0.85fr) minmax(0, 1.25fr) minmax(0, 1.75fr)
        minmax(0, 0.65fr) 7.25rem;
      grid-template-areas:
        'rank unit place part action chance cost decide'
        'when when when when when when when when'
        '. why why why why why why why';
      border-block-end: 1px solid var(--rule);
      padding-block-end: 0.35rem;
    }

    tbody td,
    tbody th {
      border: 0;
      padding: 0.3rem 0.35rem 0;
    }

    .chance .second {
      white-space: normal;
    }

    .rank {
      grid-area: rank;
    }

    .unit {
      grid-area: unit;
    }

    .place {
      grid-area: place;
    }

    .part {
      grid-area: part;
    }

    .action {
      grid-area: action;
    }

    .when {
      grid-area: when;
    }

    .chance {
      grid-area: chance;
    }

    .cost {
      grid-area: cost;
      border: 0;
    }

    .why {
      grid-area: why;
    }

    .decide {
      grid-area: decide;
    }

    td.chance::before {
      content: 'Fails: ';
    }

    td.chance .second::before {
      content: 'by ';
    }

    .when .second {
      padding-inline-start: 2.5rem;
    }

    td.cost::before {
      content: 'Waiting ';
      display: block;
    }

    td.chance::before,
    td.cost::before {
      font-size: 0.75rem;
      color: var(--ink-soft);
    }
  }

  @media screen and (max-width: 46rem) {
    tbody tr:not(.spacer) {
      grid-template-columns: 2.5rem minmax(0, 1.1fr) minmax(0, 1fr);
      grid-template-areas:
        'rank unit part'
        '. place action'
        'when when when'
        '. chance cost'
        '. why why'
        '. decide decide';
    }

    .chance,
    .cost {
      text-align: start;
    }
  }
`;
