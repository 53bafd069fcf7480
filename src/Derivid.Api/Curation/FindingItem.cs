using System.Text.Json;
using Derivid.Core.Curation;

namespace Derivid.Api.Curation;

/// <summary>Something wrong or noteworthy about a record of the proposed table.</summary>
/// <param name="Severity">An error stands in the way of the release; a warning asks for a look.</param>
/// <param name="Table">The list the record stands in.</param>
/// <param name="Key">What names the record.</param>
/// <param name="Field">The field.</param>
/// <param name="Value">What stands there.</param>
/// <param name="Allowed">What is allowed, or what to look at.</param>
/// <param name="IsNew">Whether the version it starts from doesn't have it already.</param>
public sealed record FindingItem(
    FindingSeverity Severity, string Table, string Key, string Field, string Value, string Allowed, bool IsNew)
{
    /// <summary>Translates.</summary>
    /// <param name="finding">The finding.</param>
    /// <param name="isNew">Whether the proposal brings it.</param>
    public static FindingItem Of(TableFinding finding, bool isNew)
    {
        ArgumentNullException.ThrowIfNull(finding);
        return new FindingItem(
            finding.Severity,
            finding.Kind.TableName,
            finding.Key,
            JsonNamingPolicy.CamelCase.ConvertName(finding.Field),
            finding.Value,
            finding.Allowed,
            isNew);
    }
}
