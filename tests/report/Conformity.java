import java.io.BufferedReader;
import java.io.File;
import java.io.InputStreamReader;
import java.io.PrintStream;
import java.util.Map;
import java.util.TreeSet;
import java.util.logging.LogManager;
import org.verapdf.gf.foundry.VeraGreenfieldFoundryProvider;
import org.verapdf.pdfa.Foundries;
import org.verapdf.pdfa.PDFAParser;
import org.verapdf.pdfa.flavours.PDFAFlavour;
import org.verapdf.pdfa.results.ValidationResult;
import org.verapdf.pdfa.validation.profiles.RuleId;

/** Reads lines "profile TAB file" and answers each with "number of checks TAB broken rules". */
public class Conformity {
    public static void main(String[] unused) throws Exception {
        LogManager.getLogManager().reset();
        PrintStream answers = new PrintStream(System.out, true, "UTF-8");
        System.setOut(System.err);
        VeraGreenfieldFoundryProvider.initialise();
        BufferedReader asked = new BufferedReader(new InputStreamReader(System.in, "UTF-8"));
        for (String line = asked.readLine(); line != null; line = asked.readLine()) {
            String[] parts = line.split("\t");
            answers.println(answer(PDFAFlavour.fromString(parts[0]), new File(parts[1])));
        }
    }

    private static String answer(PDFAFlavour profile, File file) {
        try (PDFAParser parser = Foundries.defaultInstance().createParser(file, profile)) {
            ValidationResult result =
                Foundries.defaultInstance().createValidator(profile, false).validate(parser);
            TreeSet<String> broken = new TreeSet<>();
            for (Map.Entry<RuleId, Integer> rule : result.getFailedChecks().entrySet()) {
                RuleId id = rule.getKey();
                broken.add(id.getClause() + "-" + id.getTestNumber() + " x" + rule.getValue());
            }
            if (broken.isEmpty() != result.isCompliant()) {
                broken.add("the validator contradicts itself");
            }
            return result.getTotalAssertions() + "\t" + String.join(", ", broken);
        } catch (Exception problem) {
            return "0\tnot readable: " + problem;
        }
    }
}
