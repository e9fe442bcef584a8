import { expect, test } from "vitest";
import { openDoor } from "../../../daemon/mqtt/door.js";
import { hashPassword, isPasswordHash, isPasswordOf } from "../../../daemon/mqtt/password-hash.js";

const bytes = (text: string) => Buffer.from(text);

test("a hash fits its password alone, and two hashes of one password differ", async () => {
  const [one, two] = await Promise.all([hashPassword("a long one"), hashPassword("a long one")]);
  expect(one).not.toBe(two);
  expect(isPasswordHash(one)).toBe(true);
  expect(one).not.toContain("long");
  expect(await isPasswordOf(bytes("a long one"), one)).toBe(true);
  expect(await isPasswordOf(bytes("a long"), one)).toBe(false);
  expect(await isPasswordOf(bytes(""), one)).toBe(false);
});

test("it is scrypt as others compute it", async () => {
  // RFC 7914, section 12: scrypt("pleaseletmein", "SodiumChloride", N=16384, r=8, p=1), first 32
  // of its 64 bytes; PBKDF2 gives them first (RFC 8018, section 5.2), so a shorter key is a prefix.
  const hash = "7023bdcb3afd7348461c06cd81fd38ebfda8fbba904f8e3ea9b543f6545da1f2";
  const [salt, wanted] = [bytes("SodiumChloride"), Buffer.from(hash, "hex")].map((value) =>
    value.toString("base64").replace(/=+$/, ""),
  );
  const text = `$scrypt$ln=14,r=8,p=1$${salt}$${wanted}`;
  expect(await isPasswordOf(bytes("pleaseletmein"), text)).toBe(true);
  expect(await isPasswordOf(bytes("pleaseletmeIn"), text)).toBe(false);
});

test("a text that is no hash, or one that would take gigabytes, fits nothing", async () => {
  const salt = "A".repeat(22);
  for (const text of [
    "",
    "a long one",
    `$scrypt$ln=30,r=8,p=1$${salt}$${"A".repeat(43)}`,
    `$scrypt$ln=14,r=8,p=1$${salt}$`,
  ]) {
    expect(isPasswordHash(text)).toBe(false);
    expect(await isPasswordOf(bytes("a long one"), text)).toBe(false);
  }
});

const shedBoard = async () => ({
  user: "shed-board",
  hash: await hashPassword("shed secret"),
  publish: ["quillmere/shed/+"],
  read: ["drowse/state"],
});

test("a sensor may publish what its rights name and subscribe to what they name, and no more", async () => {
  const door = openDoor({ user: null, password: null, sensors: [await shedBoard()] });
  const rights = (await door.admit("shed-board", bytes("shed secret")))!;
  const topics = ["quillmere/shed/air", "quillmere/attic/air", "quillmere/shed/air/x", "$SYS/x"];
  expect(topics.filter(rights.mayPublish)).toEqual(["quillmere/shed/air"]);
  const filters = ["drowse/state", "drowse/+", "#", "quillmere/shed/air", "+/state", "bad/#/x"];
  expect(filters.filter(rights.maySubscribe)).toEqual(["drowse/state"]);
});

test("wrong passwords, unknown users and nobody are kept out, also after the right one came", async () => {
  const door = openDoor({
    user: "keeper",
    password: "the keeper's",
    sensors: [await shedBoard(), { user: "bare", hash: null, publish: ["#"], read: [] }],
  });
  for (let round = 0; round < 2; round++) {
    expect(await door.admit("shed-board", bytes("the keeper's"))).toBeNull();
    expect(await door.admit("shed-board", undefined)).toBeNull();
    expect(await door.admit("bare", bytes(""))).toBeNull();
    expect(await door.admit("stranger", bytes("shed secret"))).toBeNull();
    expect(await door.admit(undefined, undefined)).toBeNull();
    expect((await door.admit("shed-board", bytes("shed secret")))?.user).toBe("shed-board");
  }
  expect((await door.admit("keeper", bytes("the keeper's")))?.mayPublish("anything")).toBe(true);
});

test("a flood of guesses is refused unseen beyond a few, and the right one comes in after it", async () => {
  const door = openDoor({ user: null, password: null, sensors: [await shedBoard()] });
  expect(await door.admit("shed-board", bytes("shed secret"))).not.toBeNull();
  const guesses = Array.from({ length: 200 }, (_, n) => door.admit("shed-board", bytes(`${n}`)));
  // Known again by its digest, it does not wait in their line.
  expect(await door.admit("shed-board", bytes("shed secret"))).not.toBeNull();
  expect((await Promise.all(guesses)).every((rights) => rights === null)).toBe(true);
});
