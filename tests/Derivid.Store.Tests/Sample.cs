using System.Globalization;
using Derivid.Core.Teaching;
using Derivid.Store.Access;
using Derivid.Store.Identifications;

namespace Derivid.Store.Tests;

/// <summary>Things to store, made up.</summary>
internal static class Sample
{
    public static StoredIdentification Identification(string id, DateTime? createdAtUtc = null) => StoredIdentification.Of(
        id, 1, "2026.1", """{"derivatives":[]}"""u8, """{"candidates":[]}"""u8, createdAtUtc ?? StoreUnderTest.Now);

    public static StoredIdentification[] Identifications(string prefix, int count) =>
        [.. Enumerable.Range(0, count).Select(place => Identification(string.Create(CultureInfo.InvariantCulture, $"{prefix}-{place:D4}")))];

    public static ApiKey Key(string id, Role role = Role.Student, DateTime? expiresAtUtc = null, DateTime? createdAtUtc = null) => new()
    {
        Id = id,
        SecretHash = [.. Enumerable.Range(0, 32).Select(place => (byte)(place * 7))],
        Name = $"made up, {id}",
        Role = role,
        CreatedAtUtc = createdAtUtc ?? StoreUnderTest.Now.AddDays(-2),
        CreatedBy = "service",
        ExpiresAtUtc = expiresAtUtc,
    };
}
