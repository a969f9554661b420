/** The list on paper: a ledger in landscape, without what can only be pressed. */
import { css } from 'lit';

export const rankingTablePrint = css`
  @media print {
    table {
      font-size: 8.5pt;
    }

    thead {
      position: static;
    }

    tr {
      break-inside: avoid;
    }

    .second,
    .decided,
    button.head {
      font-size: 7.5pt;
    }

    th,
    td {
      padding-inline: 0.35rem;
    }

    th.rank {
      width: 2rem;
    }

    th.unit {
      width: 5rem;
    }

    th.part,
    th.decide {
      width: 4.5rem;
    }

    th.place,
    th.action {
      width: 6.75rem;
    }

    th.chance {
      width: 7.25rem;
    }

    th.cost {
      width: 4rem;
    }

    th.why {
      width: 12.5rem;
    }
  }
`;
