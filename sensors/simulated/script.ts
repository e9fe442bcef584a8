/** Something that happens to a simulated fridge, from `startMs` until before `endMs`. */
export type Happening = Readonly<{ startMs: number; endMs: number }> &
  (
    | Readonly<{ kind: "door"; share: number }>
    | Readonly<{ kind: "compressor-dead" }>
    /** The thermostat's dial moves by `perDayK` a day, at most by `mostK` (negative: colder). */
    | Readonly<{ kind: "dial-creep"; perDayK: number; mostK: number }>
    /** The thermostat's contacts are welded: it calls for cooling all the time. */
    | Readonly<{ kind: "contacts-welded" }>
    | Readonly<{ kind: "power-cut" }>
    /** Food of `foodC` takes the place of `share` of what was there; only its start counts. */
    | Readonly<{ kind: "restock"; share: number; foodC: number }>
    | Readonly<{ kind: "room-heat"; riseK: number }>
    /** Nothing is heard of this probe, or of any if null. */
    | Readonly<{ kind: "mute"; probeId: string | null }>
  );

/** What a script asks for at one instant. */
export type Circumstances = {
  /** 0 shut, 1 wide open. */
  doorShare: number;
  compressorDead: boolean;
  powerCut: boolean;
  welded: boolean;
  dialShiftK: number;
  roomRiseK: number;
  /** Share of the food just replaced, and its temperature; 0 in all steps but one. */
  restockShare: number;
  restockC: number;
};

/** A script being played: happenings by start, and those under way. */
export type Playing = {
  readonly happenings: readonly Happening[];
  next: number;
  active: Happening[];
  nextChangeMs: number;
  creeping: boolean;
  readonly now: Circumstances;
};

/** Take up a script at any instant; what began earlier and still lasts is under way. */
export function playScript(happenings: readonly Happening[], fromMs: number): Playing {
  const ordered = [...happenings].sort((a, b) => a.startMs - b.startMs);
  const next = ordered.findIndex((h) => h.startMs >= fromMs);
  const begun = next === -1 ? ordered : ordered.slice(0, next);
  return {
    happenings: ordered,
    next: next === -1 ? ordered.length : next,
    active: begun.filter((h) => h.endMs > fromMs && h.kind !== "restock"),
    nextChangeMs: fromMs,
    creeping: false,
    now: {
      doorShare: 0,
      compressorDead: false,
      powerCut: false,
      welded: false,
      dialShiftK: 0,
      roomRiseK: 0,
      restockShare: 0,
      restockC: 0,
    },
  };
}

/** Bring `playing.now` to `atMs`, which never goes back. Cheap while nothing changes. */
export function turnScript(playing: Playing, atMs: number): Circumstances {
  const { now } = playing;
  now.restockShare = 0;
  if (atMs < playing.nextChangeMs && !playing.creeping) return now;

  playing.active = playing.active.filter((h) => h.endMs > atMs);
  for (;;) {
    const begins = playing.happenings[playing.next];
    if (begins === undefined || begins.startMs > atMs) break;
    playing.next++;
    if (begins.kind === "restock") {
      now.restockShare = begins.share;
      now.restockC = begins.foodC;
    } else if (begins.endMs > atMs) playing.active.push(begins);
  }
  gather(playing, atMs);
  return now;
}

function gather(playing: Playing, atMs: number): void {
  const { now, active } = playing;
  now.doorShare = 0;
  now.compressorDead = now.powerCut = now.welded = playing.creeping = false;
  now.dialShiftK = now.roomRiseK = 0;
  let nextChangeMs = playing.happenings[playing.next]?.startMs ?? Number.POSITIVE_INFINITY;
  for (const one of active) {
    nextChangeMs = Math.min(nextChangeMs, one.endMs);
    if (one.kind === "door") now.doorShare = Math.max(now.doorShare, one.share);
    else if (one.kind === "compressor-dead") now.compressorDead = true;
    else if (one.kind === "power-cut") now.powerCut = true;
    else if (one.kind === "contacts-welded") now.welded = true;
    else if (one.kind === "room-heat") now.roomRiseK += one.riseK;
    else if (one.kind === "dial-creep") {
      const shiftK = (one.perDayK * (atMs - one.startMs)) / 86_400_000;
      now.dialShiftK += Math.sign(one.mostK) * Math.min(Math.abs(shiftK), Math.abs(one.mostK));
      playing.creeping = true;
    }
  }
  playing.nextChangeMs = nextChangeMs;
}
