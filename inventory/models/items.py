"""What is stocked, and the codes it answers to."""

from django.contrib.postgres.indexes import GinIndex, OpClass
from django.core.exceptions import ValidationError
from django.core.validators import RegexValidator
from django.db import models
from django.db.models.functions import Upper

from inventory.calc.errors import Impossible
from inventory.calc.gtin import gtin14

URL_SAFE = RegexValidator(r"^[A-Za-z0-9][A-Za-z0-9._-]*$", "Use letters, digits, dot, hyphen and underscore.")


class Kind(models.TextChoices):
    """What sort of thing an item is."""

    ENCLOSURE = "enclosure"
    SUBSTRATE = "substrate"
    DRAINAGE = "drainage"
    BARRIER = "barrier"
    LITTER = "litter"
    LAMP = "lamp"
    FIXTURE = "fixture"
    HEAT = "heat"
    CONTROL = "control"
    INSTRUMENT = "instrument"
    HARDSCAPE = "hardscape"
    PLANT = "plant"
    ANIMAL_CREW = "animal_crew"
    WATER = "water"
    FOOD = "food"
    INGREDIENT = "ingredient"
    SUNDRY = "sundry"


class BaseUnit(models.TextChoices):
    """The one unit that an item's quantities are whole numbers of."""

    PIECE = "piece"
    MILLILITRE = "mL", "mL"
    GRAM = "g", "g"
    MILLIMETRE = "mm", "mm"


class Live(models.TextChoices):
    """Care that live goods need."""

    NOT_LIVE = "", "not live"
    VERTEBRATE = "vertebrate"
    INVERTEBRATE = "invertebrate"
    PLANT = "plant"


class Item(models.Model):
    """Something stocked. A new item gets its stock row and its standing lot from a trigger."""

    code = models.CharField(max_length=64, unique=True, validators=[URL_SAFE])
    name = models.CharField(max_length=200)
    kind = models.CharField(max_length=16, choices=Kind, db_default=Kind.SUNDRY)
    base_unit = models.CharField(max_length=8, choices=BaseUnit, db_default=BaseUnit.PIECE)
    unit_name = models.CharField(max_length=24, blank=True, db_default="piece")
    price = models.DecimalField(max_digits=10, decimal_places=2, db_default=0)
    cost = models.DecimalField(max_digits=12, decimal_places=4, db_default=0)
    tax_class = models.ForeignKey("inventory.TaxClass", on_delete=models.PROTECT, related_name="items")
    content_quantity = models.PositiveIntegerField(null=True, blank=True)
    content_unit = models.CharField(max_length=8, choices=BaseUnit, blank=True, db_default="")
    length_mm = models.PositiveIntegerField(null=True, blank=True)
    width_mm = models.PositiveIntegerField(null=True, blank=True)
    height_mm = models.PositiveIntegerField(null=True, blank=True)
    mass_g = models.PositiveIntegerField(null=True, blank=True)
    place = models.ForeignKey("inventory.Place", null=True, blank=True, on_delete=models.PROTECT)
    supplier = models.ForeignKey("inventory.Supplier", null=True, blank=True, on_delete=models.PROTECT)
    lead_time_days = models.PositiveSmallIntegerField(null=True, blank=True)
    live = models.CharField(max_length=16, choices=Live, blank=True, db_default="")
    fragile = models.BooleanField(db_default=False)
    liquid = models.BooleanField(db_default=False)
    electrical = models.BooleanField(db_default=False)
    keep_min_c = models.SmallIntegerField(null=True, blank=True)
    keep_max_c = models.SmallIntegerField(null=True, blank=True)
    maximum_watts = models.PositiveIntegerField(null=True, blank=True)
    watts = models.DecimalField(max_digits=8, decimal_places=2, null=True, blank=True)
    mix = models.ForeignKey("inventory.Mix", null=True, blank=True, on_delete=models.PROTECT)
    family = models.CharField(max_length=64, blank=True, db_default="")
    preference = models.SmallIntegerField(db_default=100)
    active = models.BooleanField(db_default=True)
    tracks_lots = models.BooleanField(db_default=False)

    class Meta:
        indexes = [
            GinIndex(OpClass(Upper("name"), name="gin_trgm_ops"), name="item_name_trigrams"),
            GinIndex(OpClass(Upper("code"), name="gin_trgm_ops"), name="item_code_trigrams"),
            models.Index("family", condition=~models.Q(family=""), name="item_family"),
        ]
        constraints = [
            models.CheckConstraint(condition=models.Q(price__gte=0), name="item_price_not_negative"),
            models.CheckConstraint(condition=models.Q(cost__gte=0), name="item_cost_not_negative"),
            models.CheckConstraint(
                condition=models.Q(base_unit__in=BaseUnit.values), name="item_base_unit_is_known"
            ),
            models.CheckConstraint(
                condition=models.Q(content_quantity=None, content_unit="")
                | (models.Q(content_quantity__gt=0) & ~models.Q(content_unit="")),
                name="item_content_has_its_unit",
            ),
            models.CheckConstraint(
                condition=models.Q(keep_min_c=None)
                | models.Q(keep_max_c=None)
                | models.Q(keep_min_c__lte=models.F("keep_max_c")),
                name="item_keep_range_is_a_range",
            ),
        ]

    def __str__(self) -> str:
        return self.code


class Barcode(models.Model):
    """One code on an item's packing, as scanned; `gtin` has its 14 digits when it is a trade item number."""

    item = models.ForeignKey(Item, on_delete=models.CASCADE, related_name="barcodes")
    text = models.CharField(max_length=48, unique=True)
    gtin = models.CharField(max_length=14, blank=True, db_default="")

    class Meta:
        indexes = [models.Index("gtin", condition=~models.Q(gtin=""), name="barcode_gtin")]

    def __str__(self) -> str:
        return self.text

    def clean(self) -> None:
        """Write the 14-digit form of an all-digit code, refusing a wrong check digit."""
        try:
            self.gtin = gtin14(self.text)
        except Impossible as error:
            raise ValidationError({"text": error.sentence}) from error


class SupersededCode(models.Model):
    """A code that an item used to have and is still found by."""

    item = models.ForeignKey(Item, on_delete=models.CASCADE, related_name="superseded_codes")
    code = models.CharField(max_length=64, unique=True)

    def __str__(self) -> str:
        return self.code
