import django.contrib.postgres.indexes
import django.core.validators
import django.db.models.deletion
import django.db.models.functions.text
from django.contrib.postgres.operations import TrigramExtension
from django.db import migrations, models


class Migration(migrations.Migration):

    initial = True

    dependencies = [
    ]

    operations = [
        TrigramExtension(),
        migrations.CreateModel(
            name='Hold',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('demand_ref', models.CharField(max_length=64)),
                ('quantity', models.BigIntegerField()),
                ('until', models.DateTimeField(blank=True, null=True)),
                ('created_at', models.DateTimeField()),
                ('created_by', models.CharField(max_length=150)),
                ('request_id', models.CharField(blank=True, db_default='', max_length=64)),
                ('ended_at', models.DateTimeField(blank=True, null=True)),
            ],
        ),
        migrations.CreateModel(
            name='Item',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('code', models.CharField(max_length=64, unique=True, validators=[django.core.validators.RegexValidator('^[A-Za-z0-9][A-Za-z0-9._-]*$', 'Use letters, digits, dot, hyphen and underscore.')])),
                ('name', models.CharField(max_length=200)),
                ('kind', models.CharField(choices=[('enclosure', 'Enclosure'), ('substrate', 'Substrate'), ('drainage', 'Drainage'), ('barrier', 'Barrier'), ('litter', 'Litter'), ('lamp', 'Lamp'), ('fixture', 'Fixture'), ('heat', 'Heat'), ('control', 'Control'), ('instrument', 'Instrument'), ('hardscape', 'Hardscape'), ('plant', 'Plant'), ('animal_crew', 'Animal Crew'), ('water', 'Water'), ('food', 'Food'), ('ingredient', 'Ingredient'), ('sundry', 'Sundry')], db_default='sundry', max_length=16)),
                ('base_unit', models.CharField(choices=[('piece', 'Piece'), ('mL', 'mL'), ('g', 'g'), ('mm', 'mm')], db_default='piece', max_length=8)),
                ('unit_name', models.CharField(blank=True, db_default='piece', max_length=24)),
                ('price', models.DecimalField(db_default=0, decimal_places=2, max_digits=10)),
                ('cost', models.DecimalField(db_default=0, decimal_places=4, max_digits=12)),
                ('content_quantity', models.PositiveIntegerField(blank=True, null=True)),
                ('content_unit', models.CharField(blank=True, choices=[('piece', 'Piece'), ('mL', 'mL'), ('g', 'g'), ('mm', 'mm')], db_default='', max_length=8)),
                ('length_mm', models.PositiveIntegerField(blank=True, null=True)),
                ('width_mm', models.PositiveIntegerField(blank=True, null=True)),
                ('height_mm', models.PositiveIntegerField(blank=True, null=True)),
                ('mass_g', models.PositiveIntegerField(blank=True, null=True)),
                ('lead_time_days', models.PositiveSmallIntegerField(blank=True, null=True)),
                ('live', models.CharField(blank=True, choices=[('', 'not live'), ('vertebrate', 'Vertebrate'), ('invertebrate', 'Invertebrate'), ('plant', 'Plant')], db_default='', max_length=16)),
                ('fragile', models.BooleanField(db_default=False)),
                ('liquid', models.BooleanField(db_default=False)),
                ('electrical', models.BooleanField(db_default=False)),
                ('keep_min_c', models.SmallIntegerField(blank=True, null=True)),
                ('keep_max_c', models.SmallIntegerField(blank=True, null=True)),
                ('maximum_watts', models.PositiveIntegerField(blank=True, null=True)),
                ('watts', models.DecimalField(blank=True, decimal_places=2, max_digits=8, null=True)),
                ('family', models.CharField(blank=True, db_default='', max_length=64)),
                ('preference', models.SmallIntegerField(db_default=100)),
                ('active', models.BooleanField(db_default=True)),
                ('tracks_lots', models.BooleanField(db_default=False)),
            ],
        ),
        migrations.CreateModel(
            name='Mix',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('code', models.SlugField(max_length=64, unique=True)),
                ('name', models.CharField(max_length=200)),
                ('note', models.TextField(blank=True, db_default='')),
                ('active', models.BooleanField(db_default=True)),
            ],
            options={
                'verbose_name_plural': 'mixes',
            },
        ),
        migrations.CreateModel(
            name='Place',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('code', models.CharField(max_length=32)),
                ('name', models.CharField(blank=True, db_default='', max_length=120)),
            ],
        ),
        migrations.CreateModel(
            name='Site',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('code', models.CharField(max_length=32, unique=True)),
                ('name', models.CharField(max_length=120)),
            ],
        ),
        migrations.CreateModel(
            name='Supplier',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('code', models.CharField(max_length=32, unique=True)),
                ('name', models.CharField(max_length=120)),
                ('lead_time_days', models.PositiveSmallIntegerField(db_default=7)),
                ('active', models.BooleanField(db_default=True)),
            ],
        ),
        migrations.CreateModel(
            name='CatalogueVersion',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('version', models.BigIntegerField(db_default=1)),
            ],
            options={
                'constraints': [models.CheckConstraint(condition=models.Q(('id', 1)), name='one_catalogue_version')],
            },
        ),
        migrations.CreateModel(
            name='HoldChange',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('kind', models.CharField(choices=[('held', 'Held'), ('filled', 'Filled'), ('transferred', 'Transferred'), ('released', 'Released'), ('lapsed', 'Lapsed'), ('shortened', 'Shortened'), ('handed_over', 'handed over')], max_length=12)),
                ('quantity', models.BigIntegerField()),
                ('demand_ref', models.CharField(max_length=64)),
                ('why', models.CharField(blank=True, db_default='', max_length=200)),
                ('at', models.DateTimeField()),
                ('by', models.CharField(max_length=150)),
                ('request_id', models.CharField(blank=True, db_default='', max_length=64)),
                ('hold', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='changes', to='inventory.hold')),
            ],
        ),
        migrations.CreateModel(
            name='IdempotencyKey',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('actor', models.CharField(max_length=150)),
                ('key', models.CharField(max_length=200)),
                ('fingerprint', models.CharField(max_length=128)),
                ('status', models.PositiveSmallIntegerField(null=True)),
                ('body', models.JSONField(null=True)),
                ('created_at', models.DateTimeField()),
            ],
            options={
                'indexes': [models.Index(models.F('created_at'), name='key_by_age')],
                'constraints': [models.UniqueConstraint(fields=('actor', 'key'), name='key_once_per_actor')],
            },
        ),
        migrations.AddField(
            model_name='hold',
            name='item',
            field=models.ForeignKey(db_constraint=False, db_index=False, on_delete=django.db.models.deletion.PROTECT, to='inventory.item'),
        ),
        migrations.CreateModel(
            name='Lot',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('code', models.CharField(max_length=80, unique=True, validators=[django.core.validators.RegexValidator('^[A-Za-z0-9][A-Za-z0-9._-]*$', 'Use letters, digits, dot, hyphen and underscore.')])),
                ('state', models.CharField(choices=[('good', 'Good'), ('quarantined', 'Quarantined'), ('expired', 'Expired'), ('spent', 'Spent')], db_default='good', max_length=12)),
                ('standing', models.BooleanField(db_default=False)),
                ('best_before', models.DateField(blank=True, null=True)),
                ('unit_cost', models.DecimalField(blank=True, decimal_places=4, max_digits=12, null=True)),
                ('created_at', models.DateTimeField()),
                ('item', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='lots', to='inventory.item')),
                ('split_from', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, to='inventory.lot')),
                ('supplier', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, to='inventory.supplier')),
            ],
        ),
        migrations.CreateModel(
            name='LotChange',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('old_state', models.CharField(choices=[('good', 'Good'), ('quarantined', 'Quarantined'), ('expired', 'Expired'), ('spent', 'Spent')], max_length=12)),
                ('new_state', models.CharField(choices=[('good', 'Good'), ('quarantined', 'Quarantined'), ('expired', 'Expired'), ('spent', 'Spent')], max_length=12)),
                ('why', models.CharField(max_length=200)),
                ('at', models.DateTimeField()),
                ('by', models.CharField(max_length=150)),
                ('request_id', models.CharField(blank=True, db_default='', max_length=64)),
                ('lot', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='changes', to='inventory.lot')),
            ],
        ),
        migrations.AddField(
            model_name='item',
            name='mix',
            field=models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, to='inventory.mix'),
        ),
        migrations.CreateModel(
            name='OutboxMessage',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('topic', models.CharField(max_length=64)),
                ('payload', models.JSONField()),
                ('created_at', models.DateTimeField()),
                ('sent_at', models.DateTimeField(blank=True, null=True)),
            ],
            options={
                'indexes': [models.Index(models.F('id'), condition=models.Q(('sent_at__isnull', True)), name='outbox_unsent')],
            },
        ),
        migrations.AddField(
            model_name='item',
            name='place',
            field=models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, to='inventory.place'),
        ),
        migrations.AddField(
            model_name='place',
            name='site',
            field=models.ForeignKey(db_default=1, on_delete=django.db.models.deletion.PROTECT, related_name='places', to='inventory.site'),
        ),
        migrations.AddField(
            model_name='hold',
            name='site',
            field=models.ForeignKey(db_constraint=False, on_delete=django.db.models.deletion.PROTECT, to='inventory.site'),
        ),
        migrations.CreateModel(
            name='Stock',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('sellable', models.BigIntegerField(db_default=0)),
                ('held', models.BigIntegerField(db_default=0)),
                ('item', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='stock', to='inventory.item')),
                ('site', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, to='inventory.site')),
            ],
            options={
                'verbose_name_plural': 'stock',
            },
        ),
        migrations.CreateModel(
            name='SupersededCode',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('code', models.CharField(max_length=64, unique=True)),
                ('item', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='superseded_codes', to='inventory.item')),
            ],
        ),
        migrations.AddField(
            model_name='item',
            name='supplier',
            field=models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, to='inventory.supplier'),
        ),
        migrations.CreateModel(
            name='TaxClass',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('code', models.CharField(max_length=32, unique=True)),
                ('name', models.CharField(max_length=120)),
                ('rate', models.DecimalField(db_default=0, decimal_places=3, max_digits=6)),
            ],
            options={
                'verbose_name_plural': 'tax classes',
                'constraints': [models.CheckConstraint(condition=models.Q(('rate__gte', 0), ('rate__lte', 100)), name='tax_rate_is_a_percentage')],
            },
        ),
        migrations.AddField(
            model_name='item',
            name='tax_class',
            field=models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='items', to='inventory.taxclass'),
        ),
        migrations.CreateModel(
            name='Want',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('demand_ref', models.CharField(max_length=64)),
                ('quantity', models.BigIntegerField()),
                ('until', models.DateTimeField(blank=True, null=True)),
                ('created_at', models.DateTimeField()),
                ('created_by', models.CharField(max_length=150)),
                ('request_id', models.CharField(blank=True, db_default='', max_length=64)),
                ('ended_at', models.DateTimeField(blank=True, null=True)),
                ('item', models.ForeignKey(db_constraint=False, db_index=False, on_delete=django.db.models.deletion.PROTECT, to='inventory.item')),
                ('site', models.ForeignKey(db_constraint=False, on_delete=django.db.models.deletion.PROTECT, to='inventory.site')),
            ],
        ),
        migrations.CreateModel(
            name='Barcode',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('text', models.CharField(max_length=48, unique=True)),
                ('gtin', models.CharField(blank=True, db_default='', max_length=14)),
                ('item', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='barcodes', to='inventory.item')),
            ],
            options={
                'indexes': [models.Index(models.F('gtin'), condition=models.Q(('gtin', ''), _negated=True), name='barcode_gtin')],
            },
        ),
        migrations.CreateModel(
            name='MixPart',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('parts', models.DecimalField(decimal_places=3, max_digits=8)),
                ('item', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='in_mixes', to='inventory.item')),
                ('mix', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='parts', to='inventory.mix')),
            ],
            options={
                'constraints': [models.UniqueConstraint(fields=('mix', 'item'), name='ingredient_once_per_mix'), models.CheckConstraint(condition=models.Q(('parts__gt', 0)), name='mix_part_is_positive')],
            },
        ),
        migrations.CreateModel(
            name='Movement',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('quantity', models.BigIntegerField()),
                ('kind', models.CharField(choices=[('receipt', 'Receipt'), ('hand_over', 'hand over'), ('return', 'Return'), ('adjustment', 'Adjustment'), ('count', 'Count'), ('move', 'Move'), ('mixing', 'Mixing'), ('reversal', 'Reversal')], max_length=12)),
                ('reason', models.CharField(blank=True, db_default='', max_length=200)),
                ('demand_ref', models.CharField(blank=True, db_default='', max_length=64)),
                ('unit_cost', models.DecimalField(blank=True, decimal_places=4, max_digits=12, null=True)),
                ('at', models.DateTimeField()),
                ('by', models.CharField(max_length=150)),
                ('request_id', models.CharField(blank=True, db_default='', max_length=64)),
                ('item', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='movements', to='inventory.item')),
                ('lot', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='movements', to='inventory.lot')),
                ('reverses', models.OneToOneField(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, related_name='reversed_by', to='inventory.movement')),
                ('place', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='movements', to='inventory.place')),
            ],
            options={
                'indexes': [models.Index(models.F('item'), models.OrderBy(models.F('id'), descending=True), name='movement_by_item_newest'), models.Index(models.F('demand_ref'), condition=models.Q(('demand_ref', ''), _negated=True), name='movement_by_demand')],
                'constraints': [models.CheckConstraint(condition=models.Q(('quantity', 0), _negated=True), name='movement_moves_something'), models.CheckConstraint(condition=models.Q(('kind__in', ['receipt', 'hand_over', 'return', 'adjustment', 'count', 'move', 'mixing', 'reversal'])), name='movement_kind_is_known'), models.CheckConstraint(condition=models.Q(models.Q(('kind', 'reversal'), ('reverses__isnull', False)), models.Q(models.Q(('kind', 'reversal'), _negated=True), ('reverses__isnull', True)), _connector='OR'), name='only_a_reversal_reverses')],
            },
        ),
        migrations.CreateModel(
            name='LotBalance',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('on_hand', models.BigIntegerField(db_default=0)),
                ('item', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='balances', to='inventory.item')),
                ('lot', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='balances', to='inventory.lot')),
                ('place', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='balances', to='inventory.place')),
            ],
            options={
                'indexes': [models.Index(models.F('item'), condition=models.Q(('on_hand__gt', 0)), name='balance_on_hand_by_item')],
                'constraints': [models.UniqueConstraint(fields=('lot', 'place'), name='balance_once_per_lot_and_place'), models.CheckConstraint(condition=models.Q(('on_hand__gte', 0)), name='on_hand_not_negative')],
            },
        ),
        migrations.AddConstraint(
            model_name='place',
            constraint=models.UniqueConstraint(fields=('site', 'code'), name='place_code_once_per_site'),
        ),
        migrations.AddIndex(
            model_name='hold',
            index=models.Index(models.F('item'), condition=models.Q(('ended_at__isnull', True)), name='hold_active_by_item'),
        ),
        migrations.AddIndex(
            model_name='hold',
            index=models.Index(models.F('until'), condition=models.Q(('ended_at__isnull', True), ('until__isnull', False)), name='hold_active_by_until'),
        ),
        migrations.AddConstraint(
            model_name='hold',
            constraint=models.UniqueConstraint(condition=models.Q(('ended_at__isnull', True)), fields=('demand_ref', 'item', 'site'), name='one_active_hold_per_demand_and_item'),
        ),
        migrations.AddConstraint(
            model_name='hold',
            constraint=models.CheckConstraint(condition=models.Q(models.Q(('ended_at__isnull', True), ('quantity__gt', 0)), models.Q(('ended_at__isnull', False), ('quantity', 0)), _connector='OR'), name='hold_ends_when_nothing_is_held'),
        ),
        migrations.AddConstraint(
            model_name='hold',
            constraint=models.CheckConstraint(condition=models.Q(('demand_ref', ''), _negated=True), name='hold_names_its_demand'),
        ),
        migrations.AddConstraint(
            model_name='stock',
            constraint=models.UniqueConstraint(fields=('site', 'item'), name='stock_once_per_site_and_item'),
        ),
        migrations.AddConstraint(
            model_name='stock',
            constraint=models.CheckConstraint(condition=models.Q(('held__gte', 0), ('held__lte', models.F('sellable'))), name='held_is_within_sellable'),
        ),
        migrations.AddIndex(
            model_name='lot',
            index=models.Index(models.F('best_before'), condition=models.Q(('best_before__isnull', False), ('state', 'good')), name='lot_good_by_best_before'),
        ),
        migrations.AddConstraint(
            model_name='lot',
            constraint=models.UniqueConstraint(condition=models.Q(('standing', True)), fields=('item',), name='one_standing_lot_per_item'),
        ),
        migrations.AddConstraint(
            model_name='lot',
            constraint=models.CheckConstraint(condition=models.Q(('state__in', ['good', 'quarantined', 'expired', 'spent'])), name='lot_state_is_known'),
        ),
        migrations.AddConstraint(
            model_name='lot',
            constraint=models.CheckConstraint(condition=models.Q(('standing', True), ('state', 'spent'), _negated=True), name='standing_lot_is_never_spent'),
        ),
        migrations.AddIndex(
            model_name='item',
            index=django.contrib.postgres.indexes.GinIndex(django.contrib.postgres.indexes.OpClass(django.db.models.functions.text.Upper('name'), name='gin_trgm_ops'), name='item_name_trigrams'),
        ),
        migrations.AddIndex(
            model_name='item',
            index=django.contrib.postgres.indexes.GinIndex(django.contrib.postgres.indexes.OpClass(django.db.models.functions.text.Upper('code'), name='gin_trgm_ops'), name='item_code_trigrams'),
        ),
        migrations.AddIndex(
            model_name='item',
            index=models.Index(models.F('family'), condition=models.Q(('family', ''), _negated=True), name='item_family'),
        ),
        migrations.AddConstraint(
            model_name='item',
            constraint=models.CheckConstraint(condition=models.Q(('price__gte', 0)), name='item_price_not_negative'),
        ),
        migrations.AddConstraint(
            model_name='item',
            constraint=models.CheckConstraint(condition=models.Q(('cost__gte', 0)), name='item_cost_not_negative'),
        ),
        migrations.AddConstraint(
            model_name='item',
            constraint=models.CheckConstraint(condition=models.Q(('base_unit__in', ['piece', 'mL', 'g', 'mm'])), name='item_base_unit_is_known'),
        ),
        migrations.AddConstraint(
            model_name='item',
            constraint=models.CheckConstraint(condition=models.Q(models.Q(('content_quantity', None), ('content_unit', '')), models.Q(('content_quantity__gt', 0), models.Q(('content_unit', ''), _negated=True)), _connector='OR'), name='item_content_has_its_unit'),
        ),
        migrations.AddConstraint(
            model_name='item',
            constraint=models.CheckConstraint(condition=models.Q(('keep_min_c', None), ('keep_max_c', None), ('keep_min_c__lte', models.F('keep_max_c')), _connector='OR'), name='item_keep_range_is_a_range'),
        ),
        migrations.AddIndex(
            model_name='want',
            index=models.Index(models.F('item'), models.F('id'), condition=models.Q(('ended_at__isnull', True)), name='want_active_by_item_oldest'),
        ),
        migrations.AddConstraint(
            model_name='want',
            constraint=models.UniqueConstraint(condition=models.Q(('ended_at__isnull', True)), fields=('demand_ref', 'item', 'site'), name='one_active_want_per_demand_and_item'),
        ),
        migrations.AddConstraint(
            model_name='want',
            constraint=models.CheckConstraint(condition=models.Q(models.Q(('ended_at__isnull', True), ('quantity__gt', 0)), models.Q(('ended_at__isnull', False), ('quantity__gte', 0)), _connector='OR'), name='want_asks_for_something'),
        ),
    ]
