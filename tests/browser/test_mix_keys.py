"""A mix by keys and by thumb: what is typed is worked out in place, and the focus stays where it is."""

from playwright.sync_api import expect

from tests.browser.house import focused, violations

MIX = "/mixes/understorey/"


def test_a_key_goes_to_the_mixes_and_enter_opens_one(desk):
    desk.goto("/quotes/")
    desk.keyboard.press("m")
    desk.wait_for_url("**/mixes/")
    desk.get_by_role("link", name="Dune mix").focus()
    desk.keyboard.press("Enter")
    desk.wait_for_url("**/mixes/dune/")


def test_a_depth_is_typed_in_place_and_the_focus_stays(desk):
    desk.goto(MIX)
    before = desk.locator("#mix-curve").inner_html()
    desk.keyboard.press("d")
    expect(desk.locator("#front")).to_be_focused()
    desk.keyboard.type("8 in", delay=30)
    expect(desk.locator("#hint-front")).to_have_text("= 203 mm (8.0 in)")
    assert focused(desk) == "front"
    expect(desk.locator("#front")).to_have_value("8 in")
    assert desk.locator("#mix-curve").inner_html() != before
    expect(desk).to_have_url(f"{desk.url.split('/mixes/')[0]}{MIX}?style=humid-forest&front=8+in")


def test_an_address_passed_on_shows_the_same(desk, window):
    desk.goto(MIX)
    desk.locator("#air_lo").fill("20")
    expect(desk.locator("#failures")).to_contain_text("too little for at least 20 %.")
    other = window("joss")
    other.goto(desk.url)
    expect(other.locator("#air_lo")).to_have_value("20")
    expect(other.locator("#failures")).to_have_text(desk.locator("#failures").inner_text())
    expect(other.locator("#judged")).not_to_contain_text("$")


def test_bad_input_is_told_beside_its_field_and_goes_when_it_is_put_right(desk):
    desk.goto(MIX)
    desk.locator("#back").fill("deep")
    expect(desk.locator("#fault-back")).to_contain_text("Depth at the back must be between 5 and 2000 mm")
    expect(desk.locator("#back")).to_have_attribute("aria-invalid", "true")
    assert violations(desk) == {}
    desk.locator("#back").fill("100")
    expect(desk.locator("#fault-back")).to_have_text("")
    expect(desk.locator("#back")).not_to_have_attribute("aria-invalid", "true")


def test_ingredients_are_ticked_by_keys_and_the_design_is_made_of_them(desk):
    desk.goto(MIX)
    desk.locator("#ask summary").focus()
    desk.keyboard.press("Enter")
    for name in ("Coir fibre, washed, loose", "Bark fines 3-6 mm, loose"):
        desk.get_by_label(name).focus()
        desk.keyboard.press("Space")
    expect(desk.locator("#least")).to_contain_text(
        "From: Bark fines 3-6 mm, loose; Coir fibre, washed, loose."
    )
    assert "with=LOOSE-BARK-FINES" in desk.url


def test_bounds_that_clash_are_told_in_words(desk):
    desk.goto(MIX)
    desk.locator("#water_lo").fill("70")
    desk.locator("#density_lo").fill("1.4")
    expect(desk.locator("#clash")).to_contain_text("cannot")
    expect(desk.locator("#clash")).to_contain_text("bulk density of at least 1.4 kg/L")


def test_another_style_brings_its_depths(phone):
    phone.goto(MIX)
    for style, depth in (("desert", "usual 100 mm (3.9 in)"), ("seasonal-forest", "usual 60 mm (2.4 in)")):
        phone.locator("#style").select_option(style)
        expect(phone.locator("#hint-front")).to_have_text(depth)
        assert f"style={style}" in phone.url


def test_without_scripts_the_form_still_asks(browser, live_shop):
    context = browser.new_context(base_url=live_shop.url, java_script_enabled=False)
    live_shop.sign_in(context, "marit")
    page = context.new_page()
    page.goto(MIX)
    page.locator("#front").fill("4 in")
    page.locator("#work-out").click()
    expect(page.locator("#hint-front")).to_have_text("= 102 mm (4.0 in)")
    context.close()


def test_the_letters_of_the_drawing_can_be_read_on_a_phone(phone):
    phone.goto("/mixes/")
    phone.locator("#sheet td a").first.click()
    texts = phone.locator(".curvepaper text:visible")
    assert texts.count() > 8
    heights = texts.evaluate_all("all => all.map(one => one.getBoundingClientRect().height)")
    assert min(heights) > 9
