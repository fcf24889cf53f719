DROP FUNCTION inventory_change_sellable(bigint, bigint[], bigint[], text, timestamptz, text, text);
DROP FUNCTION inventory_shorten(bigint, bigint, bigint, text, timestamptz, text, text);
DROP FUNCTION inventory_fill_wants(bigint, bigint[], timestamptz, text, text);
DROP FUNCTION inventory_hold(bigint, text, text[], bigint[], timestamptz, boolean, timestamptz, text, text);
DROP FUNCTION inventory_lapse(bigint[], timestamptz, text, text);
DROP FUNCTION inventory_cut_holds(bigint[], bigint[], text, text, text, timestamptz, text, text);
DROP FUNCTION inventory_lock(bigint[]);
