"""The counter behind quote and order numbers, and rows that nobody may rewrite."""

from django.db import migrations

SEQUENCE = "CREATE SEQUENCE shop_number START WITH 1001"
NO_SEQUENCE = "DROP SEQUENCE shop_number"

REFUSE = """
CREATE FUNCTION shop_refuse_change() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    RAISE EXCEPTION '% rows are never changed or deleted', TG_TABLE_NAME USING ERRCODE = 'restrict_violation';
END $$;
CREATE TRIGGER shop_quoteversion_is_final BEFORE UPDATE OR DELETE ON shop_quoteversion
    FOR EACH ROW EXECUTE FUNCTION shop_refuse_change();
CREATE TRIGGER shop_change_is_final BEFORE UPDATE OR DELETE ON shop_change
    FOR EACH ROW EXECUTE FUNCTION shop_refuse_change();
"""
ALLOW = """
DROP TRIGGER shop_quoteversion_is_final ON shop_quoteversion;
DROP TRIGGER shop_change_is_final ON shop_change;
DROP FUNCTION shop_refuse_change();
"""


class Migration(migrations.Migration):
    dependencies = [("shop", "0001_tables")]

    operations = [
        migrations.RunSQL(SEQUENCE, NO_SEQUENCE),
        migrations.RunSQL(REFUSE, ALLOW),
    ]
