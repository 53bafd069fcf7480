using System.Globalization;
using Derivid.Store.Identifications;

namespace Derivid.Store.Tests;

/// <summary>Identifications to store; their JSON is made up.</summary>
internal static class Sample
{
    public static StoredIdentification Identification(string id) => new(
        id, 1, "2026.1", """{"derivatives":[]}""", """{"candidates":[]}""", StoreUnderTest.Now);

    public static StoredIdentification[] Identifications(string prefix, int count) =>
        [.. Enumerable.Range(0, count).Select(place => Identification(string.Create(CultureInfo.InvariantCulture, $"{prefix}-{place:D4}")))];
}
