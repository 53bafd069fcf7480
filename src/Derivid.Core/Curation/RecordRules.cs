using Derivid.Core.Colours;
using Derivid.Core.Compounds;
using Derivid.Core.Melting;
using Derivid.Core.SpotTests;

namespace Derivid.Core.Curation;

/// <summary>What can be said of one record, given the rest of the table: form, chemistry, what it cites.</summary>
public static class RecordRules
{
    /// <summary>Checks a record.</summary>
    /// <param name="kind">The kind of record.</param>
    /// <param name="record">The record.</param>
    /// <param name="index">The table it is meant for; it may be part of it.</param>
    /// <returns>Shape: in the order of the rules; empty when all is well.</returns>
    public static IReadOnlyList<TableFinding> Check(RecordKind kind, object record, TableIndex index)
    {
        ArgumentNullException.ThrowIfNull(record);
        ArgumentNullException.ThrowIfNull(index);
        var type = RecordTypes.Of(kind);
        var found = new List<TableFinding>();
        var findings = new RecordFindings(kind, type.KeyOf(record), found);
        FormRules.Check(record, type, findings);
        switch (record)
        {
            case Source source:
                SourceRules.Check(source, findings);
                break;
            case Parent parent:
                ParentRules.Check(parent, findings);
                break;
            case ParentConstant constant:
                ConstantRules.Check(constant, index, findings);
                break;
            case DerivativeKind derivativeKind:
                KindRules.Check(derivativeKind, index, findings);
                break;
            case Derivative derivative:
                DerivativeRules.Check(derivative, index, findings);
                break;
            case SpotTestQuestion question:
                SpotTestRules.Check(question, index, findings);
                break;
            case SpotTest test:
                SpotTestRules.Check(test, index, findings);
                break;
            case SpotTestResponse response:
                SpotTestRules.Check(response, index, findings);
                break;
            case ColourExpectation expectation:
                ColourRules.Check(expectation, index, findings);
                break;
            case MeltingPointStandard standard:
                ConstantRules.Check(standard, index, findings);
                break;
        }

        return found;
    }
}
