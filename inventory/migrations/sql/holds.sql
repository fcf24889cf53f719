-- Every function here that changes a promise expects the stock rows of its items to be locked, in id order,
-- by inventory_lock or by inventory_hold. Each statement of a function sees what was committed before it began,
-- so figures read after the lock are the newest ones.

CREATE FUNCTION inventory_lock(p_items bigint[]) RETURNS void LANGUAGE plpgsql AS $$
BEGIN
    PERFORM id FROM inventory_stock WHERE item_id = ANY (p_items) ORDER BY id FOR NO KEY UPDATE;
END $$;

-- Take quantities off holds: the hold, its history, the stock row, and the news for its demand.
CREATE FUNCTION inventory_cut_holds(
    p_holds bigint[], p_cuts bigint[], p_kind text, p_why text, p_topic text,
    p_now timestamptz, p_by text, p_request text
) RETURNS void LANGUAGE plpgsql AS $$
BEGIN
    WITH cut AS (
        UPDATE inventory_hold h
        SET quantity = h.quantity - c.cut, ended_at = CASE WHEN h.quantity = c.cut THEN p_now END
        FROM unnest(p_holds, p_cuts) AS c (hold_id, cut)
        WHERE h.id = c.hold_id AND h.ended_at IS NULL
        RETURNING h.id, h.site_id, h.item_id, h.demand_ref, c.cut
    ), noted AS (
        INSERT INTO inventory_holdchange (hold_id, kind, quantity, demand_ref, why, at, by, request_id)
        SELECT id, p_kind, -cut.cut, demand_ref, p_why, p_now, p_by, p_request FROM cut ORDER BY id
    ), freed AS (
        UPDATE inventory_stock s SET held = s.held - f.quantity
        FROM (SELECT site_id, item_id, sum(cut.cut) AS quantity FROM cut GROUP BY site_id, item_id) f
        WHERE s.site_id = f.site_id AND s.item_id = f.item_id
    )
    INSERT INTO inventory_outboxmessage (topic, payload, created_at)
    SELECT p_topic, jsonb_build_object('demand_ref', demand_ref), p_now
    FROM (SELECT DISTINCT demand_ref FROM cut WHERE p_topic <> '' ORDER BY demand_ref) d;
END $$;

-- End the overdue holds of these items.
CREATE FUNCTION inventory_lapse(p_items bigint[], p_now timestamptz, p_by text, p_request text)
RETURNS integer LANGUAGE plpgsql AS $$
DECLARE
    v_holds bigint[];
    v_cuts bigint[];
BEGIN
    SELECT array_agg(id), array_agg(quantity) INTO v_holds, v_cuts FROM inventory_hold
    WHERE item_id = ANY (p_items) AND ended_at IS NULL AND until <= p_now;
    IF v_holds IS NULL THEN
        RETURN 0;
    END IF;
    PERFORM inventory_cut_holds(v_holds, v_cuts, 'lapsed', '', 'hold.lapsed', p_now, p_by, p_request);
    RETURN cardinality(v_holds);
END $$;

-- Hold all lines or none; partially, hold what is free and let the rest wait.
-- Returns what is short: nothing when all is held, free = NULL for a code that is no item.
CREATE FUNCTION inventory_hold(
    p_site bigint, p_demand text, p_codes text[], p_quantities bigint[], p_until timestamptz, p_partial boolean,
    p_now timestamptz, p_by text, p_request text
) RETURNS TABLE (item text, wanted bigint, free bigint) LANGUAGE plpgsql AS $$
DECLARE
    v_codes text[];
    v_items bigint[];
    v_wanted bigint[];
    v_takes bigint[];
    v_frees bigint[];
    v_short bigint[];
    v_hopeless boolean;
BEGIN
    SELECT array_agg(l.code ORDER BY i.id), array_agg(i.id ORDER BY i.id), array_agg(l.quantity ORDER BY i.id)
    INTO v_codes, v_items, v_wanted
    FROM (
        SELECT u.code, sum(u.quantity)::bigint AS quantity
        FROM unnest(p_codes, p_quantities) AS u (code, quantity) GROUP BY u.code
    ) l LEFT JOIN inventory_item i ON i.code = l.code;
    IF array_position(v_items, NULL) IS NOT NULL THEN
        RETURN QUERY SELECT u.code, u.quantity, NULL::bigint
            FROM unnest(v_codes, v_wanted, v_items) AS u (code, quantity, id) WHERE u.id IS NULL;
        RETURN;
    END IF;
    IF p_partial THEN
        INSERT INTO inventory_stock (site_id, item_id) SELECT p_site, unnest(v_items) ON CONFLICT DO NOTHING;
    END IF;

    PERFORM s.id FROM inventory_stock s
    WHERE s.site_id = p_site AND s.item_id = ANY (v_items) ORDER BY s.id FOR NO KEY UPDATE;

    SELECT array_agg(w.id) FILTER (WHERE coalesce(s.sellable - s.held, 0) < w.quantity),
           array_agg(greatest(0, coalesce(s.sellable - s.held, 0)) ORDER BY w.id)
    INTO v_short, v_frees
    FROM unnest(v_items, v_wanted) AS w (id, quantity)
    LEFT JOIN inventory_stock s ON s.site_id = p_site AND s.item_id = w.id;

    IF v_short IS NOT NULL THEN
        SELECT bool_or(coalesce(s.sellable - s.held, 0) + coalesce(o.quantity, 0) < w.quantity) INTO v_hopeless
        FROM unnest(v_items, v_wanted) AS w (id, quantity)
        LEFT JOIN inventory_stock s ON s.site_id = p_site AND s.item_id = w.id
        LEFT JOIN (
            SELECT h.item_id, sum(h.quantity)::bigint AS quantity FROM inventory_hold h
            WHERE h.site_id = p_site AND h.item_id = ANY (v_short) AND h.ended_at IS NULL AND h.until <= p_now
            GROUP BY h.item_id
        ) o ON o.item_id = w.id;
        IF v_hopeless AND NOT p_partial THEN
            RETURN QUERY SELECT u.code, u.quantity, u.free
                FROM unnest(v_codes, v_wanted, v_frees) AS u (code, quantity, free) WHERE u.free < u.quantity;
            RETURN;
        END IF;
        PERFORM inventory_lapse(v_short, p_now, p_by, p_request);
        SELECT array_agg(s.sellable - s.held ORDER BY s.item_id) INTO v_frees
        FROM inventory_stock s WHERE s.site_id = p_site AND s.item_id = ANY (v_items);
    END IF;

    SELECT array_agg(least(u.quantity, u.free) ORDER BY u.id) INTO v_takes
    FROM unnest(v_items, v_wanted, v_frees) AS u (id, quantity, free);
    UPDATE inventory_stock s SET held = s.held + t.take
    FROM unnest(v_items, v_takes) AS t (id, take)
    WHERE s.site_id = p_site AND s.item_id = t.id AND t.take > 0;
    WITH made AS (
        INSERT INTO inventory_hold
            (site_id, item_id, demand_ref, quantity, until, created_at, created_by, request_id)
        SELECT p_site, t.id, p_demand, t.take, p_until, p_now, p_by, p_request
        FROM unnest(v_items, v_takes) AS t (id, take) WHERE t.take > 0
        RETURNING inventory_hold.id, inventory_hold.quantity
    )
    INSERT INTO inventory_holdchange (hold_id, kind, quantity, demand_ref, at, by, request_id)
    SELECT made.id, 'held', made.quantity, p_demand, p_now, p_by, p_request FROM made;

    IF v_short IS NOT NULL THEN
        INSERT INTO inventory_want
            (site_id, item_id, demand_ref, quantity, until, created_at, created_by, request_id)
        SELECT p_site, t.id, p_demand, t.quantity - t.take, p_until, p_now, p_by, p_request
        FROM unnest(v_items, v_wanted, v_takes) AS t (id, quantity, take) WHERE t.take < t.quantity;
        RETURN QUERY SELECT t.code, t.quantity, t.take
            FROM unnest(v_codes, v_wanted, v_takes) AS t (code, quantity, take) WHERE t.take < t.quantity;
    END IF;
END $$;

-- Give what is free now to the demands that wait for it, oldest first.
CREATE FUNCTION inventory_fill_wants(
    p_site bigint, p_items bigint[], p_now timestamptz, p_by text, p_request text
) RETURNS void LANGUAGE plpgsql AS $$
BEGIN
    WITH waiting AS (
        SELECT w.id, w.item_id, w.demand_ref, w.quantity, w.until, s.sellable - s.held AS free,
            sum(w.quantity) OVER (PARTITION BY w.item_id ORDER BY w.id) - w.quantity AS before
        FROM inventory_want w JOIN inventory_stock s ON s.site_id = w.site_id AND s.item_id = w.item_id
        WHERE w.site_id = p_site AND w.item_id = ANY (p_items) AND w.ended_at IS NULL
            AND (w.until IS NULL OR w.until > p_now)
    ), filled AS (
        SELECT waiting.*, least(waiting.quantity, waiting.free - waiting.before)::bigint AS fill
        FROM waiting WHERE waiting.free > waiting.before
    ), answered AS (
        UPDATE inventory_want w SET quantity = w.quantity - f.fill,
            ended_at = CASE WHEN w.quantity = f.fill THEN p_now END
        FROM filled f WHERE w.id = f.id
    ), held AS (
        INSERT INTO inventory_hold AS h
            (site_id, item_id, demand_ref, quantity, until, created_at, created_by, request_id)
        SELECT p_site, f.item_id, f.demand_ref, f.fill, f.until, p_now, p_by, p_request FROM filled f ORDER BY f.id
        ON CONFLICT (demand_ref, item_id, site_id) WHERE ended_at IS NULL
        DO UPDATE SET quantity = h.quantity + excluded.quantity
        RETURNING h.id, h.item_id, h.demand_ref
    ), noted AS (
        INSERT INTO inventory_holdchange (hold_id, kind, quantity, demand_ref, at, by, request_id)
        SELECT h.id, 'filled', f.fill, f.demand_ref, p_now, p_by, p_request
        FROM held h JOIN filled f ON f.item_id = h.item_id AND f.demand_ref = h.demand_ref
    ), promised AS (
        UPDATE inventory_stock s SET held = s.held + p.quantity
        FROM (SELECT item_id, sum(fill) AS quantity FROM filled GROUP BY item_id) p
        WHERE s.site_id = p_site AND s.item_id = p.item_id
    )
    INSERT INTO inventory_outboxmessage (topic, payload, created_at)
    SELECT 'want.filled', jsonb_build_object('demand_ref', demand_ref), p_now
    FROM (SELECT DISTINCT demand_ref FROM filled ORDER BY demand_ref) d;
END $$;

-- Let no more be held of an item than a physical fact leaves: overdue holds go first, then the newest.
CREATE FUNCTION inventory_shorten(
    p_site bigint, p_item bigint, p_room bigint, p_why text, p_now timestamptz, p_by text, p_request text
) RETURNS void LANGUAGE plpgsql AS $$
DECLARE
    v_holds bigint[];
    v_cuts bigint[];
BEGIN
    PERFORM inventory_lapse(ARRAY[p_item], p_now, p_by, p_request);
    SELECT array_agg(n.id), array_agg(least(n.quantity, n.over - n.before)::bigint) INTO v_holds, v_cuts
    FROM (
        SELECT h.id, h.quantity, s.held - p_room AS over,
            sum(h.quantity) OVER (ORDER BY h.id DESC) - h.quantity AS before
        FROM inventory_hold h JOIN inventory_stock s ON s.site_id = h.site_id AND s.item_id = h.item_id
        WHERE h.site_id = p_site AND h.item_id = p_item AND h.ended_at IS NULL
    ) n WHERE n.over > n.before;
    IF v_holds IS NOT NULL THEN
        PERFORM inventory_cut_holds(
            v_holds, v_cuts, 'shortened', p_why, 'hold.shortened', p_now, p_by, p_request);
    END IF;
END $$;

-- Move the sellable figure of items by what has just been posted for them.
CREATE FUNCTION inventory_change_sellable(
    p_site bigint, p_items bigint[], p_deltas bigint[], p_why text, p_now timestamptz, p_by text, p_request text
) RETURNS void LANGUAGE plpgsql AS $$
DECLARE
    v_items bigint[];
BEGIN
    PERFORM inventory_shorten(p_site, s.item_id, s.sellable + d.delta, p_why, p_now, p_by, p_request)
    FROM unnest(p_items, p_deltas) AS d (item_id, delta)
    JOIN inventory_stock s ON s.site_id = p_site AND s.item_id = d.item_id
    WHERE s.sellable + d.delta < s.held;
    UPDATE inventory_stock s SET sellable = s.sellable + d.delta
    FROM unnest(p_items, p_deltas) AS d (item_id, delta)
    WHERE s.site_id = p_site AND s.item_id = d.item_id;
    SELECT array_agg(d.item_id) INTO v_items
    FROM unnest(p_items, p_deltas) AS d (item_id, delta) WHERE d.delta > 0;
    IF v_items IS NOT NULL THEN
        PERFORM inventory_fill_wants(p_site, v_items, p_now, p_by, p_request);
    END IF;
END $$;
