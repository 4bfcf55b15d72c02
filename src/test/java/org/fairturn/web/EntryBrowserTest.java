package org.fairturn.web;

import static org.assertj.core.api.Assertions.assertThat;

import com.deque.html.axecore.selenium.AxeBuilder;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.function.BooleanSupplier;
import org.fairturn.folder.Interrupted;
import org.fairturn.units.LengthUnit;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.openqa.selenium.By;
import org.openqa.selenium.Keys;
import org.openqa.selenium.OutputType;
import org.openqa.selenium.WebElement;
import org.openqa.selenium.chrome.ChromeDriver;
import org.openqa.selenium.logging.LogType;

/** Entering readings in a real browser as large as a phone, with and without a connection. */
@Timeout(180)
class EntryBrowserTest {
    private static final Path PICTURES = Path.of("target/screenshots");
    private static final String A3 = "/trial/demo/circle/A3";

    private static ChromeDriver phone;

    @TempDir
    Path above;

    private Path demo;
    private Served served;

    private static ChromeDriver browser() {
        ChromeDriver browser = Chromium.start();
        Chromium.size(browser, 390, 844);
        return browser;
    }

    @BeforeAll
    static void startBrowser() {
        phone = browser();
    }

    @AfterAll
    static void stopBrowser() {
        if (phone != null) {
            phone.quit();
        }
    }

    @BeforeEach
    void start() {
        demo = Served.demoBelow(above);
        served = Served.on(above);
        connected(true);
        phone.get(served.origin() + A3);
    }

    @AfterEach
    void stop() {
        served.close();
    }

    private static void connected(boolean yes) {
        phone.executeCdpCommand("Network.enable", Map.of());
        phone.executeCdpCommand(
                "Network.emulateNetworkConditions",
                Map.of("offline", !yes, "latency", 0, "downloadThroughput", -1, "uploadThroughput", -1));
    }

    private static WebElement find(String css) {
        return phone.findElement(By.cssSelector(css));
    }

    private static String text(String css) {
        return find(css).getText();
    }

    private static void press(String... keys) {
        for (String key : keys) {
            find("#keys [data-key='" + key + "']").click();
        }
    }

    private static void save() {
        find("#save").click();
    }

    private static void until(BooleanSupplier holds) {
        Chromium.until("the page", holds);
    }

    private List<String> entered() {
        try {
            return Files.readAllLines(demo.resolve("readings.csv")).stream()
                    .filter(row -> row.matches(".*,[0-9a-f]{32}"))
                    .map(row -> row.substring(0, row.lastIndexOf(',')))
                    .toList();
        } catch (IOException e) {
            throw new AssertionError(e);
        }
    }

    private static void quietConsole() {
        assertThat(phone.manage().logs().get(LogType.BROWSER).getAll()).isEmpty();
    }

    private static void forgetConsole() {
        phone.manage().logs().get(LogType.BROWSER);
    }

    @Test
    void feetInchesAndEighths_areComposed_toldBackInBothUnits_andSaved() {
        forgetConsole();
        press("5", "ft", "2", "3/8");
        assertThat(find("#f-value").getDomProperty("value")).isEqualTo("5 ft 2 3/8 in");
        assertThat(text("#echo")).isEqualTo("= 5 ft 2 3/8 in (1.584 m)");
        save();
        until(() -> text("#told").startsWith("Saved: "));
        assertThat(text("#told")).matches("Saved: 5 ft 2 3/8 in \\(1\\.584 m\\), reading \\d+ of circle A3");
        assertThat(entered()).containsExactly("A3,across,5 ft 2 3/8 in,,,,,");
        assertThat(find("#f-value").getDomProperty("value")).isEmpty();
        assertThat(text(".saved li:last-child")).contains("5 ft 2 3/8 in (1.584 m)");
        until(() -> find("#estimate").getDomAttribute("data-current").equals("true"));
        assertThat(text("#estimate")).contains("This circle: ");
        quietConsole();
    }

    @Test
    void metric_withABearingFromTheClock_andTheMeasurerRemembered() {
        press("swap", "1", ".", "5", "8", "m");
        assertThat(text("#echo")).isEqualTo("= 1.58 m (62 1/4 in)");
        find(".more summary").click();
        find("#f-measurer").sendKeys("M2");
        find(".at4 input").click();
        save();
        until(() -> text("#told").startsWith("Saved: "));
        assertThat(entered()).containsExactly("A3,across,1.58 m,,,4,M2,");
        phone.get(served.origin() + "/trial/demo/circle/B1");
        assertThat(find("#f-measurer").getDomProperty("value")).isEqualTo("M2");
        assertThat(find("#keys").getDomAttribute("aria-label")).isEqualTo("Keypad, metric");
        press("swap"); // as the other tests expect it
        phone.executeScript("localStorage.clear()");
    }

    @Test
    void chordAndRise_takesTwoLengths_theNextKeyLeadsOn() {
        find("input[value='chord and rise']").click();
        press("6", "2", "in", "next", "1", "7", "1/2");
        save();
        until(() -> text("#told").startsWith("Saved: "));
        assertThat(entered()).containsExactly("A3,chord and rise,62 in,17 1/2 in,,,,");
    }

    @Test
    void theLastReading_isUndoneByTheLargeButton_andAnyByItsOwn() {
        press("6", "2", "in");
        save();
        until(() -> text("#told").startsWith("Saved: "));
        press("6", "3", "in");
        save();
        until(() -> text("#told").startsWith("Saved: 63"));
        find("#undo-last").click();
        until(() -> text("#told").startsWith("Taken out: 63 in"));
        assertThat(entered()).containsExactly("A3,across,62 in,,,,,");
        find(".saved li:last-child button").click();
        until(() -> text("#told").startsWith("Taken out: 62 in"));
        assertThat(entered()).isEmpty();
    }

    @Test
    void withoutConnection_readingsWait_visibly_onSeveralCircles_andGoThroughOnce() {
        connected(false);
        press("6", "2", "in");
        save();
        press("6", "2", "1/8");
        save();
        find("a.go[href$='/A4']").click();
        until(() -> text("h1").equals("Circle A4"));
        press("6", "3", "in");
        save();
        press("9", "9", "in");
        save();
        until(() -> text("#waiting-title").equals("4 readings wait on this phone"));
        assertThat(text("#waiting-list"))
                .contains("circle A3: 62 1/8 in (1.578 m)")
                .contains("circle A4: 63 in");
        find("#undo-last").click();
        assertThat(entered()).isEmpty();
        connected(true);
        until(() -> entered().size() == 3 && !find("#waiting").isDisplayed());
        assertThat(entered())
                .containsExactly("A3,across,62 in,,,,,", "A3,across,62 1/8 in,,,,,", "A4,across,63 in,,,,,");
        forgetConsole();
    }

    @Test
    void aServerStartedAnew_getsWhatWasTypedMeanwhile_onceEach_evenAfterThePageWasClosed() {
        int port = served.server().port();
        served.close();
        press("6", "2", "in");
        save();
        until(() -> text("#waiting-title").equals("1 reading waits on this phone"));
        served = Served.on(new Settings(above, false, port), InstantSource.system());
        until(() -> entered().size() == 1 && !find("#waiting").isDisplayed());
        served.close();
        press("6", "3", "in");
        save();
        until(() -> text("#waiting-title").equals("1 reading waits on this phone"));
        phone.get("about:blank");
        served = Served.on(new Settings(above, false, port), InstantSource.system());
        phone.get(served.origin() + A3);
        until(() -> entered().size() == 2 && !find("#waiting").isDisplayed());
        assertThat(entered()).containsExactly("A3,across,62 in,,,,,", "A3,across,63 in,,,,,");
        forgetConsole();
    }

    @Test
    void whereTheAccessHasEnded_readingsStay_andGoThroughOnceTheCodeIsEntered() {
        int port = served.server().port();
        served.close();
        served = Served.on(new Settings(above, true, port), InstantSource.system());
        List<String> addresses = served.server().networkAddresses();
        Assumptions.assumeFalse(addresses.isEmpty(), "this machine has no address in a network");
        String address = addresses.get(0).replaceFirst("/$", "");
        enter(address);
        phone.get(address + A3);
        press("6", "2", "in");
        save();
        until(() -> text("#told").startsWith("Saved: "));
        served.close();
        served = Served.on(new Settings(above, true, port), InstantSource.system());
        press("6", "3", "in");
        save();
        until(() -> text("#waiting-why").startsWith("The access has ended; they stay here."));
        assertThat(entered()).hasSize(1);
        enter(address);
        phone.get(address + A3);
        until(() -> entered().size() == 2 && !find("#waiting").isDisplayed());
        forgetConsole();
    }

    private void enter(String address) {
        phone.get(address + "/enter");
        find("#f-code").sendKeys(served.server().accessCode(), Keys.ENTER);
        until(() -> !phone.getCurrentUrl().contains("/enter"));
    }

    @Test
    void whatTheServerRefuses_staysOnThePhone_withItsMessage_untilItIsCorrected() {
        find("#f-value").sendKeys("1,58m");
        until(() -> text("#echo").startsWith("Not a length yet: "));
        save();
        until(() -> text("#waiting-title").equals("1 to mend"));
        assertThat(text("#waiting-list")).contains("If the comma is a decimal sign, write a point.");
        find("#waiting-list button").click();
        assertThat(find("#f-value").getDomProperty("value")).isEqualTo("1,58m");
        find("#f-value").clear();
        find("#f-value").sendKeys("1.58m");
        save();
        until(() -> text("#told").startsWith("Saved: "));
        assertThat(find("#waiting").isDisplayed()).isFalse();
        assertThat(entered()).containsExactly("A3,across,1.58m,,,,,");
        forgetConsole();
    }

    @Test
    void theKeyboardAlone_doesAll() {
        WebElement field = phone.switchTo().activeElement();
        assertThat(field.getDomAttribute("id")).isEqualTo("f-value");
        field.sendKeys("62 3/8 in", Keys.ENTER);
        until(() -> text("#told").startsWith("Saved: "));
        phone.switchTo().activeElement().sendKeys(Keys.chord(Keys.SHIFT, Keys.TAB));
        phone.switchTo().activeElement().sendKeys(Keys.ARROW_RIGHT);
        assertThat(find("input[name=kind]:checked").getDomProperty("value")).isEqualTo("chord and rise");
        phone.switchTo().activeElement().sendKeys(Keys.TAB);
        phone.switchTo().activeElement().sendKeys("62 in", Keys.TAB);
        phone.switchTo().activeElement().sendKeys("17 1/2 in", Keys.ENTER);
        until(() -> entered().size() == 2);
        assertThat(entered().get(1)).isEqualTo("A3,chord and rise,62 in,17 1/2 in,,,,");
    }

    @Test
    void twoPhonesOnOneTrial_keepBoth_andSeeEachOther() {
        ChromeDriver other = browser();
        try {
            other.get(served.origin() + A3);
            press("6", "2", "in");
            save();
            until(() -> text("#told").startsWith("Saved: "));
            other.findElement(By.id("f-value")).sendKeys("63 in", Keys.ENTER);
            until(() -> other.findElement(By.id("told")).getText().startsWith("Saved: "));
            assertThat(other.findElement(By.cssSelector(".saved")).getText())
                    .contains("62 in")
                    .contains("63 in");
            until(() -> text(".saved").contains("63 in"));
            assertThat(text("#told")).isEqualTo("The folder was changed elsewhere; shown anew.");
            assertThat(entered()).containsExactly("A3,across,62 in,,,,,", "A3,across,63 in,,,,,");
        } finally {
            other.quit();
        }
    }

    @Test
    void whatThePhoneWorksOut_isWhatTheServerWouldSay() {
        for (String typed : List.of(
                "2 1/2 in",
                "5 ft 2 3/8 in",
                "5 ft",
                "0 ft 3/8 in",
                "62 in",
                "7/8 in",
                "76 1/2",
                "1.58 m",
                "158 cm",
                "1587 mm",
                "1.5875 m",
                "3 mm",
                "0.3 mm",
                "12.5 in",
                "77",
                "5.5 ft",
                "20 ft 11 7/8 in",
                "61 7/8 in")) {
            phone.executeScript(
                    "var f = document.getElementById('f-value'); f.value = arguments[0];"
                            + " f.dispatchEvent(new Event('input', {bubbles: true}));",
                    typed);
            assertThat(text("#echo"))
                    .as(typed)
                    .isEqualTo("= " + Echo.of(typed, LengthUnit.INCH).orThrow());
        }
    }

    @Test
    void whatWasTypedButNotSaved_isThereAgain_afterLookingElsewhere() {
        press("6", "2");
        find("a.go[href$='/A4']").click();
        until(() -> text("h1").equals("Circle A4"));
        assertThat(find("#f-value").getDomProperty("value")).isEmpty();
        phone.get(served.origin() + A3);
        assertThat(find("#f-value").getDomProperty("value")).isEqualTo("62");
        press("clear");
    }

    @Test
    void aReadingAcross_isEnteredWithoutScrolling_withLargeKeys() {
        for (WebElement key : phone.findElements(By.cssSelector("#keys button, #save, .kind"))) {
            assertThat(key.getSize().getHeight()).as(key.getText()).isGreaterThanOrEqualTo(56);
            assertThat(key.getSize().getWidth()).as(key.getText()).isGreaterThanOrEqualTo(56);
            assertThat(key.getRect().getY() + key.getRect().getHeight())
                    .as(key.getText())
                    .isLessThanOrEqualTo(844);
        }
        press("swap");
        for (WebElement key : phone.findElements(By.cssSelector("#keys button"))) {
            assertThat(key.getSize().getWidth()).as(key.getText()).isGreaterThanOrEqualTo(56);
        }
        press("swap");
        phone.executeScript("localStorage.clear()");
    }

    @ParameterizedTest
    @ValueSource(ints = {320, 360, 375})
    void onANarrowPhone_bothKeypadsFit_withKeysForAThumb(int width) {
        press("1", "1", "0", "7/8");
        save();
        until(() -> text("#told").startsWith("Saved: "));
        Chromium.size(phone, width, 640);
        try {
            for (int keypad = 0; keypad < 2; keypad++) {
                assertThat((Long) phone.executeScript("return document.documentElement.scrollWidth"
                                + " - document.documentElement.clientWidth"))
                        .isZero();
                for (WebElement key : phone.findElements(By.cssSelector("#keys button, #save, #undo-last, .kind"))) {
                    assertThat(key.getSize().getHeight()).as(key.getText()).isGreaterThanOrEqualTo(56);
                    assertThat(key.getSize().getWidth()).as(key.getText()).isGreaterThanOrEqualTo(48);
                    assertThat(key.getRect().getX()).as(key.getText()).isNotNegative();
                    assertThat(key.getRect().getX() + key.getRect().getWidth())
                            .as(key.getText())
                            .isLessThanOrEqualTo(width);
                    assertThat((Long) phone.executeScript(
                                    "return arguments[0].scrollWidth - arguments[0].clientWidth", key))
                            .as("%s is cut off", key.getText())
                            .isNotPositive();
                }
                press("swap");
            }
        } finally {
            phone.executeScript("localStorage.clear()");
            Chromium.size(phone, 390, 844);
        }
    }

    @Test
    void aFullDisk_isSaidOnThePhone_asNotSaved_andTheReadingStays_untilThereIsRoom() {
        press("6", "2", "in");
        save();
        until(() -> text("#told").startsWith("Saved: 62 in"));
        assertThat(Interrupted.fullFrom(1, () -> {
                    press("6", "3", "1/8");
                    save();
                    until(() -> text("#waiting-why").startsWith("Not saved: "));
                    assertThat(text("#waiting-title")).isEqualTo("1 reading waits on this phone");
                    assertThat(text("#waiting-why"))
                            .isEqualTo(
                                    "Not saved: readings.csv: found no way to write it; accepted: a file and a folder"
                                            + " you may write to, with room on the disk. The file is as it was. Where a"
                                            + " spreadsheet has it open, close it there; then save again. What waits is sent"
                                            + " again by itself.");
                    assertThat(text("#told")).isEqualTo("Kept on this phone, to be sent: 63 1/8 in (1.603 m).");
                    assertThat(text("#waiting-list")).contains("circle A3: 63 1/8 in (1.603 m)");
                    assertThat(entered()).containsExactly("A3,across,62 in,,,,,");
                }))
                .isTrue();
        until(() -> entered().size() == 2 && !find("#waiting").isDisplayed());
        assertThat(entered()).containsExactly("A3,across,62 in,,,,,", "A3,across,63 1/8 in,,,,,");
        forgetConsole();
    }

    @Test
    void theFolderOfTheTrialsGone_isSaidInWords_andTheReadingGoesThrough_onceItIsBack() throws IOException {
        served.close();
        served = Served.on(demo);
        phone.get(served.origin() + A3);
        Path away = Files.move(demo, above.resolve("away"));
        press("6", "2", "in");
        save();
        until(() -> text("#waiting-why").startsWith("Not saved: The folder of this trial is not there. See that "));
        Files.move(away, demo);
        until(() -> entered().size() == 1 && !find("#waiting").isDisplayed());
        forgetConsole();
    }

    /** Once the taking out was sent first, and the reading after it stayed. */
    @Test
    void aClockSetBack_betweenReadings_changesNeitherTheirOrder_norWhatWasTakenOut() {
        int port = served.server().port();
        served.close();
        press("6", "2", "in");
        save();
        until(() -> text("#waiting-title").equals("1 reading waits on this phone"));
        phone.executeScript("Date.now = function () { return 1000000000000; }"); // September 2001
        press("6", "3", "in");
        save();
        press("6", "4", "in");
        save();
        until(() -> text("#waiting-title").equals("3 readings wait on this phone"));
        find("#waiting-list li button").click(); // the first, which was tried
        until(() -> text("#waiting-list").contains("Undo of circle A3: 62 in"));
        served = Served.on(new Settings(above, false, port), InstantSource.system());
        until(() -> !find("#waiting").isDisplayed());
        assertThat(entered()).containsExactly("A3,across,63 in,,,,,", "A3,across,64 in,,,,,");
        forgetConsole();
    }

    @Test
    void thePageIsFreeOfComplaints_whateverIsOpen_inLightAndDark() throws IOException {
        Files.createDirectories(PICTURES);
        press("6", "2", "3/8");
        save();
        until(() -> text("#told").startsWith("Saved: "));
        until(() -> find("#estimate").getDomAttribute("data-current").equals("true"));
        press("1", "1", "0", "in");
        save();
        until(() -> text("#told").startsWith("Saved: 110"));
        until(() -> text("#prompt").equals("Measure again? The reason stands below."));
        assertThat(text("#estimate")).contains("across 110 in makes");
        for (boolean dark : new boolean[] {false, true}) {
            Map<String, Object> scheme = new HashMap<>();
            scheme.put("name", "prefers-color-scheme");
            scheme.put("value", dark ? "dark" : "light");
            phone.executeCdpCommand("Emulation.setEmulatedMedia", Map.of("features", List.of(scheme)));
            for (int width : new int[] {320, 390, 1280}) {
                Chromium.size(phone, width, width < 500 ? 844 : 800);
                phone.executeScript("window.scrollTo(0, 0)");
                picture("entry-" + width + (dark ? "-dark" : ""));
                assertThat((Long) phone.executeScript("return document.documentElement.scrollWidth"
                                + " - document.documentElement.clientWidth"))
                        .isZero();
            }
            Chromium.size(phone, 390, 844);
            phone.executeScript("document.getElementById('estimate').scrollIntoView()");
            picture("entry-estimate" + (dark ? "-dark" : ""));
            phone.executeScript("document.querySelectorAll('.entry details').forEach(function (d) { d.open = true; })");
            assertThat(new AxeBuilder().analyze(phone).getViolations()).isEmpty();
            Chromium.size(phone, 390, 4600);
            picture("entry-open" + (dark ? "-dark" : ""));
            Chromium.size(phone, 390, 844);
            phone.executeScript(
                    "document.querySelectorAll('.entry details').forEach(function (d) { d.open = false; })");
        }
        phone.executeCdpCommand("Emulation.setEmulatedMedia", Map.of("features", List.of()));
        connected(false);
        press("6", "2", "in");
        save();
        until(() -> find("#waiting").isDisplayed());
        assertThat(new AxeBuilder().analyze(phone).getViolations()).isEmpty();
        Chromium.size(phone, 390, 1300);
        picture("entry-waiting");
        Chromium.size(phone, 390, 844);
        connected(true);
        until(() -> !find("#waiting").isDisplayed());
        forgetConsole();
    }

    private static void picture(String name) throws IOException {
        Files.write(PICTURES.resolve(name + ".png"), phone.getScreenshotAs(OutputType.BYTES));
    }
}
