-- History is append-only: what is written stays, and a mistake is put right by another row.
CREATE FUNCTION inventory_refuse_change() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    RAISE EXCEPTION '% is append-only: % is refused; post a reversing row instead', TG_TABLE_NAME, TG_OP
        USING ERRCODE = 'restrict_violation';
END $$;

CREATE TRIGGER movement_is_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON inventory_movement
    FOR EACH STATEMENT EXECUTE FUNCTION inventory_refuse_change();
CREATE TRIGGER holdchange_is_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON inventory_holdchange
    FOR EACH STATEMENT EXECUTE FUNCTION inventory_refuse_change();
CREATE TRIGGER lotchange_is_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON inventory_lotchange
    FOR EACH STATEMENT EXECUTE FUNCTION inventory_refuse_change();

-- A hold or a want stands on a stock row; a movement and a balance name a lot of their own item.
ALTER TABLE inventory_hold ADD CONSTRAINT hold_stands_on_stock
    FOREIGN KEY (site_id, item_id) REFERENCES inventory_stock (site_id, item_id);
ALTER TABLE inventory_want ADD CONSTRAINT want_stands_on_stock
    FOREIGN KEY (site_id, item_id) REFERENCES inventory_stock (site_id, item_id);
ALTER TABLE inventory_lot ADD CONSTRAINT lot_with_its_item UNIQUE (id, item_id);
ALTER TABLE inventory_movement ADD CONSTRAINT movement_names_lot_of_its_item
    FOREIGN KEY (lot_id, item_id) REFERENCES inventory_lot (id, item_id);
ALTER TABLE inventory_lotbalance ADD CONSTRAINT balance_names_lot_of_its_item
    FOREIGN KEY (lot_id, item_id) REFERENCES inventory_lot (id, item_id);

-- However an item is written, it has a stock row at the main site and a standing lot.
CREATE FUNCTION inventory_open_item() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    INSERT INTO inventory_stock (site_id, item_id) VALUES (1, NEW.id) ON CONFLICT DO NOTHING;
    INSERT INTO inventory_lot (code, item_id, standing, created_at)
        VALUES (NEW.code || '-0', NEW.id, true, now());
    RETURN NULL;
END $$;
CREATE TRIGGER item_opens_its_stock AFTER INSERT ON inventory_item
    FOR EACH ROW EXECUTE FUNCTION inventory_open_item();

-- Readers keep the catalogue in memory for as long as this number stays.
CREATE FUNCTION inventory_bump_catalogue() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    UPDATE inventory_catalogueversion SET version = version + 1;
    RETURN NULL;
END $$;

CREATE SEQUENCE inventory_number START 1001;

INSERT INTO inventory_catalogueversion (id) OVERRIDING SYSTEM VALUE VALUES (1);
INSERT INTO inventory_site (id, code, name) OVERRIDING SYSTEM VALUE VALUES (1, 'main', 'Shop');
INSERT INTO inventory_place (id, site_id, code, name) OVERRIDING SYSTEM VALUE VALUES (1, 1, 'shelf', 'Shop floor');
SELECT setval(pg_get_serial_sequence('inventory_site', 'id'), 1);
SELECT setval(pg_get_serial_sequence('inventory_place', 'id'), 1);
