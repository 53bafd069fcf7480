using Derivid.Core.Compounds;

namespace Derivid.Core.Curation;

/// <summary>What holds for a source and for what is read in it.</summary>
internal static class SourceRules
{
    private const string HandbookFamily = "handbooks";

    public static void Check(Source source, RecordFindings findings) => findings.Expect(
        source.HowRead != SourceReading.Memory || source.Family == HandbookFamily, nameof(source.Family), source.Family,
        $"\"{HandbookFamily}\" for a recalled source: recalled handbooks may copy each other and don't confirm each other");

    public static void CheckState(string sourceKey, Verification verification, TableIndex index, RecordFindings findings)
    {
        if (index.Find(RecordKinds.Sources, sourceKey) is not { } source || verification == Verification.CrossChecked)
        {
            return;
        }

        if (verification == Verification.Measured)
        {
            findings.Require(source is { Grade: SourceGrade.Measured, HowRead: SourceReading.None }, "SourceKey", sourceKey,
                "a source that stands for own measurements, of grade \"measured\" and with \"none\" for how it was read; what others measured and printed is read or recalled");
        }
        else
        {
            var isRecalled = source.HowRead == SourceReading.Memory;
            findings.Require((verification == Verification.Recalled) == isRecalled, "Verification", verification,
                isRecalled ? "recalled, since nobody has read the source" : "read, since the source was read");
        }
    }
}
