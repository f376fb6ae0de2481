/** The part of js-quantities 1.8 that is used; the package ships no types. */
declare module "js-quantities/esm" {
  interface Quantity {
    /** Value in SI base units. */
    readonly baseScalar: number;
    isCompatible(other: Quantity): boolean;
    kind(): string | undefined;
  }
  type QuantityFactory = (value: number, unit: string) => Quantity;
  const Qty: QuantityFactory;
  export default Qty;
}
