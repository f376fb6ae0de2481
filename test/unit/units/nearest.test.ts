import { describe, expect, test } from "vitest";
import { didYouMean, editDistance, nearestName } from "../../../src/units/nearest.ts";

describe("editDistance (optimal string alignment)", () => {
  test.each([
    ["", "", 0],
    ["abc", "", 3],
    ["kitten", "sitting", 3],
    ["ca", "ac", 1],
    ["CA", "ABC", 3],
  ])("%s to %s is %i", (from, to, distance) => {
    // Textbook pairs: kitten/sitting = 3; CA/ABC = 3 in the restricted form and 2 in the unrestricted one.
    expect(editDistance(from, to)).toBe(distance);
    expect(editDistance(to, from)).toBe(distance);
  });
});

describe("nearestName", () => {
  test("forgives case, dashes and one typing slip", () => {
    const keys = ["clearanceGroup", "conformityInner", "standOut"];
    expect(nearestName("clearance_group", keys)).toBe("clearanceGroup");
    expect(nearestName("claeranceGroup", keys)).toBe("clearanceGroup");
    expect(nearestName("StandOut", keys)).toBe("standOut");
  });

  test("of equally near words the one of like length wins, then the first", () => {
    expect(nearestName("62O4", ["624", "6204"])).toBe("6204");
    expect(nearestName("b", ["ab", "bc"])).toBe("ab");
  });

  test("says nothing when nothing is near", () => {
    expect(nearestName("temperature", ["bore", "width"])).toBeUndefined();
    expect(nearestName("", ["a"])).toBeUndefined();
    expect(nearestName("x".repeat(10_000), ["x"])).toBeUndefined();
    expect(nearestName("x", ["a", "b"])).toBeUndefined();
    expect(nearestName("word", [])).toBeUndefined();
  });

  test("didYouMean is a sentence or nothing", () => {
    expect(didYouMean("hosing", ["housing", "shaft"])).toBe('Did you mean "housing"?');
    expect(didYouMean("temperature", ["bore"])).toBeUndefined();
  });
});
