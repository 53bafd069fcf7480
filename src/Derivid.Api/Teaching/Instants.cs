using System.Globalization;
using Derivid.Api.Http;

namespace Derivid.Api.Teaching;

/// <summary>Dates on the wire (RFC 3339).</summary>
public static class Instants
{
    private static readonly string[] Forms =
        ["yyyy-MM-ddTHH:mm:sszzz", "yyyy-MM-ddTHH:mm:ssZ", "yyyy-MM-ddTHH:mm:ss.FFFFFFFzzz", "yyyy-MM-ddTHH:mm:ss.FFFFFFFZ"];

    /// <summary>Reads a date.</summary>
    /// <param name="text">As sent. Missing: null.</param>
    /// <param name="place">Where it stands.</param>
    /// <param name="errors">Takes the faults.</param>
    /// <returns>The instant in UTC. Missing: null, none was sent or it has a fault.</returns>
    public static DateTime? Read(string? text, string place, FieldErrors errors)
    {
        ArgumentNullException.ThrowIfNull(errors);
        if (text is null)
        {
            return null;
        }

        if (DateTimeOffset.TryParseExact(
            text, Forms, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out var instant))
        {
            return instant.UtcDateTime;
        }

        errors.Add(place, $"{Text.Quoted(text)} is no date and time of RFC 3339; write it like 2026-10-23T17:00:00+02:00.");
        return null;
    }
}
