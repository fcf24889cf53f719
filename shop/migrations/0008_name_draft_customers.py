from django.db import migrations

NAME_THEM = """
UPDATE shop_draft AS draft SET known_id = quote.customer_id, base_customer_id = quote.customer_id
FROM shop_quote AS quote WHERE quote.id = draft.quote_id;
UPDATE shop_draftstep AS step SET customer = draft.customer, known_id = draft.known_id
FROM shop_draft AS draft WHERE draft.id = step.draft_id;
"""


class Migration(migrations.Migration):

    dependencies = [
        ('shop', '0007_draft_customers'),
    ]

    operations = [
        migrations.RunSQL(NAME_THEM, migrations.RunSQL.noop),
    ]
