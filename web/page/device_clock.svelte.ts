/** What the answers of the server tell of the clock of this device. */

import { aheadOf } from "./clock_doubt.ts";

export class DeviceClock {
  /** By how many ms the server's clock was at least ahead when it last answered; null before that. */
  ahead: number | null = $state(null);

  /** Fetch as the browser does, and note the date of the answer. */
  readonly fetch = async (address: string, asked?: RequestInit): Promise<Response> => {
    const sent = Date.now();
    const response = await fetch(address, asked);
    this.ahead = aheadOf(response.headers.get("Date"), sent, Date.now()) ?? this.ahead;
    return response;
  };
}
