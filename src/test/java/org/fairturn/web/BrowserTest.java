package org.fairturn.web;

import static org.assertj.core.api.Assertions.assertThat;

import com.deque.html.axecore.results.Results;
import com.deque.html.axecore.selenium.AxeBuilder;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.assertj.core.api.SoftAssertions;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.openqa.selenium.By;
import org.openqa.selenium.OutputType;
import org.openqa.selenium.WebElement;
import org.openqa.selenium.chrome.ChromeDriver;
import org.openqa.selenium.logging.LogType;

/** Every page in a real browser: no complaint in its console, nothing for axe to find, pictures of it to look at. */
class BrowserTest {
    private static final Path PICTURES = Path.of("target/screenshots");
    private static final String MACHINE = "/trial/demo/machine/" + Slug.of("Alder 22");

    /** Every page of the pages there are. */
    static final Map<String, String> PAGES = new LinkedHashMap<>();

    static {
        PAGES.put("list", "/");
        PAGES.put("new", "/new");
        PAGES.put("overview", "/trial/demo");
        PAGES.put("overview-empty", "/trial/empty");
        PAGES.put("facts", "/trial/demo/facts");
        PAGES.put("machines", "/trial/demo/machines");
        PAGES.put("machine", MACHINE);
        PAGES.put("machine-new", "/trial/empty/machine");
        PAGES.put("circles", "/trial/demo/circles");
        PAGES.put("circles-next", "/trial/half/circles");
        PAGES.put("circle", "/trial/demo/circle/B1");
        PAGES.put("circle-left", "/trial/left/circle/A1");
        PAGES.put("overview-left", "/trial/left");
        PAGES.put("plan-long", "/plan?machines=Alder+22%2C+Basalt+25&ask=complaint&drives=both&circle-scatter=40+mm");
        PAGES.put("claims", "/trial/demo/claims");
        PAGES.put("claims-complaint", "/trial/complaint/claims");
        PAGES.put("claims-empty", "/trial/empty/claims");
        PAGES.put("findings", "/trial/demo/findings");
        PAGES.put("findings-tried", "/trial/demo/findings?margin=8+in&out=B4");
        PAGES.put("findings-faulty", "/trial/demo/findings?margin=8+yd");
        PAGES.put("findings-complaint", "/trial/complaint/findings");
        PAGES.put("findings-empty", "/trial/empty/findings");
        PAGES.put("card", "/trial/complaint/card");
        PAGES.put("plan-new", "/plan");
        PAGES.put(
                "plan-answer",
                "/plan?machines=Alder+22%2C+Basalt+25&ask=drive&ask=side-by-side&circle-scatter=15+mm&seed=7");
        PAGES.put("plan-no-way", "/plan?machines=Alder+22&margin=10+mm&drives=both&minutes=60");
        PAGES.put("plan-faulty", "/plan?machines=&margin=8+yd&minutes=soon");
        PAGES.put("plan-trial", "/trial/demo/plan?ask=left-right&machine=Alder+22");
        PAGES.put("plan-trial-ask", "/trial/demo/plan");
        PAGES.put("plan-trial-none", "/trial/empty/plan");
        PAGES.put("convert", "/convert");
        PAGES.put("convert-answer", "/convert?trial=complaint&value=4.6+m&outermost-ahead=1.9+m&outermost-out=65+cm");
        PAGES.put("convert-brakes", "/convert?trial=demo&value=15+ft+2+in&brakes=used");
        PAGES.put("convert-faulty", "/convert?value=4.6+yd&blade1-ahead=80+cm");
        PAGES.put("problems", "/trial/broken/problems");
        PAGES.put("problems-none", "/trial/demo/problems");
        PAGES.put("problems-empty", "/trial/empty/problems");
        PAGES.put("row", "/trial/demo/row/readings/10");
        PAGES.put("phones", "/phones");
        PAGES.put("failure", "/nowhere");
    }

    @TempDir
    static Path above;

    private static Served served;
    private static ChromeDriver browser;

    @BeforeAll
    static void start() throws IOException {
        browser = Chromium.start();
        folders(above);
        served = Served.on(new Settings(above, true, 0), java.time.InstantSource.system());
        Files.createDirectories(PICTURES);
    }

    /** The trials the pages are about. */
    static void folders(Path above) throws IOException {
        Served.demoBelow(above);
        Path half = Served.copy(Served.DEMO, above.resolve("half"));
        Files.writeString(
                half.resolve("circles.csv"),
                "A16,Alder 22,right,4WD,25,2,none,yes,\r\n",
                java.nio.file.StandardOpenOption.APPEND);
        org.fairturn.folder.TrialFolder.create(above.resolve("empty"));
        Served.copy(Path.of("testdata/complaint"), above.resolve("complaint"));
        Path left = Served.copy(Served.DEMO, above.resolve("left")).resolve("stops.csv"); // a machine to be left
        Files.writeString(left, Files.readString(left).replace("1.05,yes,3 1/4,right", "1.05,no,3 1/4,right"));
        Path broken = Served.copy(Path.of("testdata/metric"), above.resolve("broken"));
        Path facts = broken.resolve("trial.csv");
        Files.writeString(facts, Files.readString(facts).replace("margin,50 mm", "margin,50 yd"));
        Path readings = broken.resolve("readings.csv");
        Files.writeString(readings, Files.readString(readings).replaceAll("(?m)^(S[12],across,[0-9]+)", "$1,5"));
    }

    @AfterAll
    static void stop() {
        if (browser != null) {
            browser.quit();
        }
        if (served != null) {
            served.close();
        }
    }

    private static void open(String path) {
        browser.get(served.origin() + path);
    }

    private static void see(boolean dark) {
        browser.executeCdpCommand(
                "Emulation.setEmulatedMedia",
                Map.of("features", List.of(Map.of("name", "prefers-color-scheme", "value", dark ? "dark" : "light"))));
    }

    private static void size(int width, int height) {
        Chromium.size(browser, width, height);
    }

    private static void picture(String name) throws IOException {
        Files.write(PICTURES.resolve(name + ".png"), browser.getScreenshotAs(OutputType.BYTES));
    }

    @Test
    void everyPage_isFreeOfComplaints_onPhoneAndLaptop_inLightAndDark() throws IOException {
        for (var page : PAGES.entrySet()) {
            open(page.getValue());
            for (boolean dark : new boolean[] {false, true}) {
                see(dark);
                for (int width : new int[] {320, 390, 1280}) {
                    size(width, width < 500 ? 844 : 800);
                    String name = page.getKey() + "-" + width + (dark ? "-dark" : "");
                    picture(name);
                    assertThat(wider()).as("%s runs over its side", name).isZero();
                    assertThat(cutOff())
                            .as("%s: drawings and forms to be pushed sideways", name)
                            .isEmpty();
                }
                cutNowhere(page.getKey());
                Results axe = new AxeBuilder().analyze(browser);
                assertThat(axe.getViolations())
                        .as("%s%s", page.getKey(), dark ? ", dark" : "")
                        .isEmpty();
            }
        }
        assertThat(browser.manage().logs().get(LogType.BROWSER).getAll().stream()
                        .map(Object::toString)
                        .filter(line ->
                                !line.contains("/nowhere") && !line.contains("8+yd") && !line.contains("4.6+yd")))
                .isEmpty();
    }

    private static long wider() {
        return (Long) browser.executeScript(
                "return Math.max(0, document.documentElement.scrollWidth - document.documentElement.clientWidth)");
    }

    /** On phones, with letters of the usual size and twice as large; a reading is there to be undone. */
    private static void cutNowhere(String page) {
        SoftAssertions soft = new SoftAssertions();
        for (int width : new int[] {320, 360, 390}) {
            for (String letters : width < 360 ? List.of("") : List.of("", "212.5%")) {
                size(width, 844);
                browser.executeScript(
                        "document.documentElement.style.fontSize = arguments[0];"
                                + "const undo = document.getElementById('undo-last');"
                                + "if (undo) { undo.hidden = false; undo.textContent = 'Undo 6 ft 4 1/2 in'; }",
                        letters);
                soft.assertThat(outOfSight())
                        .as("%s at %d px%s", page, width, letters.isEmpty() ? "" : ", letters twice as large")
                        .isEmpty();
            }
        }
        browser.executeScript("document.documentElement.style.fontSize = '';"
                + "const undo = document.getElementById('undo-last'); if (undo) { undo.hidden = true; }");
        soft.assertAll();
    }

    /**
     * What lies beyond the side of the screen or of its own box, in the head of the page too. What is for screen readers alone,
     * quoted rows and wide tables that can be pushed sideways may; the table the findings begin with may not.
     */
    private static List<?> outOfSight() {
        return (List<?>) browser.executeScript("const screen = document.documentElement.clientWidth;"
                + "return [...document.querySelectorAll('body *')].filter(e => e.checkVisibility()"
                + " && !/^(INPUT|PRE|LEGEND|THEAD|SELECT)$/.test(e.tagName) && !e.closest('.skip, svg, pre'))"
                + ".filter(e => { const table = e.closest('.scroll');"
                + " if (table && !(table.matches('#findings > .scroll'))) return false;"
                + " const box = e.getBoundingClientRect(), style = getComputedStyle(e);"
                + " if (style.position === 'absolute' || e.closest('thead')) return false;"
                + " return box.width > 0 && (box.right > screen + 1"
                + " || (e.scrollWidth > e.clientWidth + 1 && e.clientWidth > 0 && style.overflowX !== 'visible')"
                + " || (e.matches('button, .button') && e.scrollWidth > e.clientWidth + 1)); })"
                + ".map(e => e.outerHTML.slice(0, 200))");
    }

    /** What lies in a part of the page that has to be pushed sideways to see it; tables and quoted rows may. */
    private static List<?> cutOff() {
        return (List<?>) browser.executeScript("return [...document.querySelectorAll('main *')]"
                + ".filter(e => e.scrollWidth > e.clientWidth + 1 && /auto|scroll/.test(getComputedStyle(e).overflowX))"
                + ".filter(e => e.tagName !== 'PRE' && !e.querySelector('table')).map(e => e.outerHTML.slice(0, 200))");
    }

    @Test
    void whatIsPressed_isLargeEnoughForAThumb() {
        size(390, 844);
        long all = 0;
        for (var page : PAGES.entrySet()) {
            open(page.getValue());
            List<?> targets = (List<?>) browser.executeScript(
                    "return [...document.querySelectorAll('button, .button, .inline, nav a, input[type=text], select, summary, .box')]"
                            + ".filter(e => e.checkVisibility()).map(e => Math.round(e.getBoundingClientRect().height) + ' '"
                            + " + e.outerHTML.slice(0, 200))");
            all += targets.size();
            assertThat(targets).as(page.getKey()).allMatch(target -> {
                String told = target.toString();
                return Integer.parseInt(told.substring(0, told.indexOf(' '))) >= 48;
            });
        }
        assertThat(all).isGreaterThan(200);
    }

    @Test
    void theDrawing_followsWhatIsTyped() throws InterruptedException {
        size(1280, 800);
        open(MACHINE);
        WebElement wheelbase = browser.findElement(By.id("f-machine-wheelbase"));
        wheelbase.clear();
        wheelbase.sendKeys("5 ft 2 in");
        for (int i = 0; i < 200 && !drawing().contains("L wheelbase: 62.0 in"); i++) {
            Thread.sleep(100);
        }
        assertThat(drawing()).contains("L wheelbase: 62.0 in");
        // 26 1/16, 19 3/4 and 9 5/16 in to a tenth; 19 3/4 lies halfway and falls down in binary
        assertThat(drawing()).contains("left: A 26.1 in, B 19.7 in, R 9.3 in");
    }

    private static String drawing() {
        return browser.findElement(By.id("drawing")).getText();
    }

    private static String shown(String selector) {
        return browser.findElement(By.cssSelector(selector)).getText();
    }

    private static void await(String selector, String text) {
        Chromium.until(text, () -> shown(selector).contains(text));
        assertThat(shown(selector)).contains(text);
    }

    @Test
    void whatIsTried_showsAtOnce_atAnAddressOfItsOwn_andGoesAgain() throws Exception {
        size(1280, 800);
        open("/trial/complaint/findings");
        assertThat(shown("#findings-title")).isEqualTo("What this trial shows");
        browser.findElement(By.cssSelector(".tryout > summary")).click();
        browser.findElement(By.cssSelector("#working > details > summary")).click();
        WebElement margin = browser.findElement(By.id("f-margin"));
        margin.sendKeys("1500", org.openqa.selenium.Keys.TAB);
        await("#told", "verdicts change");
        await("#shown", "Practical margin 1500 mm (59.1 in) instead of 50 mm (2.0 in).");
        await("#shown", "was: ▲ wider; with this: ✓ within the margin.");
        assertThat(shown("#findings-title")).isEqualTo("What this trial would show");
        assertThat(browser.getCurrentUrl()).endsWith("/trial/complaint/findings?margin=1500");
        assertThat(browser.findElements(By.cssSelector("#working > details[open]")))
                .as("what was unfolded stays so")
                .hasSize(1);
        picture("what-if-1280");

        browser.findElement(By.cssSelector("details.leave > summary")).click();
        browser.findElement(By.id("out-C2")).click();
        await("#shown", "Circle C2 left out.");
        assertThat(browser.getCurrentUrl()).endsWith("/trial/complaint/findings?margin=1500&out=C2");
        assertThat(new AxeBuilder().analyze(browser).getViolations()).isEmpty();

        margin = browser.findElement(By.id("f-margin"));
        margin.sendKeys(" yd", org.openqa.selenium.Keys.TAB);
        await("#faults", "Practical margin: read \"1500 yd\"; accepted: a length such as");
        await("#shown", "Nothing is tried until what is named above is mended.");
        browser.navigate().back();
        await("#shown", "Practical margin 1500 mm");

        browser.findElement(By.linkText("Back to the trial as measured")).click();
        await("#findings-title", "What this trial shows");
        assertThat(browser.findElement(By.id("f-margin")).getDomProperty("value"))
                .isEmpty();
        assertThat(browser.getCurrentUrl()).endsWith("/trial/complaint/findings");
        browser.manage().logs().get(LogType.BROWSER); // the refused form is in it, as it should be
    }

    @Test
    void drawings_areFetchedWhenTheyAreUnfolded() throws InterruptedException {
        size(390, 844);
        open("/trial/complaint/findings");
        browser.findElement(By.cssSelector("#drawings > details > summary")).click();
        List<WebElement> drawings = browser.findElements(By.cssSelector("#drawings img"));
        assertThat(drawings).hasSize(4);
        for (WebElement drawing : drawings) {
            browser.executeScript("arguments[0].scrollIntoView()", drawing);
            for (int i = 0; i < 100 && width(drawing) == 0; i++) {
                Thread.sleep(100);
            }
            assertThat(width(drawing)).isPositive();
        }
    }

    private static long width(WebElement image) {
        return ((Number) browser.executeScript("return arguments[0].complete ? arguments[0].naturalWidth : 0", image))
                .longValue();
    }

    @Test
    void pagesAreSmall_andNeedFewRequests() {
        for (var page : PAGES.entrySet()) {
            open(page.getValue());
            List<?> sizes = (List<?>) browser.executeScript(
                    "return performance.getEntriesByType('navigation').concat(performance.getEntriesByType('resource'))"
                            + ".map(e => e.encodedBodySize)");
            assertThat(sizes).as(page.getKey()).hasSizeLessThanOrEqualTo(10);
            assertThat(sizes.stream()
                            .mapToLong(size -> ((Number) size).longValue())
                            .sum())
                    .as(page.getKey())
                    .isLessThan(150_000);
        }
    }
}
