using System.Globalization;

namespace Derivid.Page.Forms;

/// <summary>Moments as an instructor types them: date and time of a clock on the wall, and how far it is from UTC.</summary>
public static class LocalMoment
{
    /// <summary>The field that says how far the clocks are from UTC at a moment: in summer not as in winter.</summary>
    /// <param name="field">The field of the moment.</param>
    public static string OffsetOf(string field) => "offset" + field;

    // Every offset in use: whole and half hours, and three of three quarters (the tz database, read from memory).
    private static readonly double[] Hours = [.. Enumerable.Range(-24, 53).Select(half => half / 2.0), 5.75, 8.75, 12.75];

    /// <summary>What can be chosen.</summary>
    public static IEnumerable<(string Value, string Text)> Offsets =>
        Hours.Order().Select(hours => Written(TimeSpan.FromHours(hours))).Select(offset => (offset, offset == "+00:00" ? "UTC" : "UTC " + offset.Replace('-', '−')));

    /// <summary>A moment as a field for date and time has it. Missing: null.</summary>
    /// <param name="utc">The moment, in UTC.</param>
    public static string? Typed(DateTime? utc) => utc?.ToString("yyyy-MM-dd'T'HH:mm", CultureInfo.InvariantCulture);

    /// <summary>Has fields stand for the moments they mean; one that can't be read stays as typed, for the service to refuse.</summary>
    /// <param name="form">The form.</param>
    /// <param name="fields">Names of the fields.</param>
    public static void Convert(PostedForm form, params IEnumerable<string> fields)
    {
        ArgumentNullException.ThrowIfNull(form);
        ArgumentNullException.ThrowIfNull(fields);
        foreach (var field in fields)
        {
            if (DateTime.TryParse(form[field], CultureInfo.InvariantCulture, DateTimeStyles.None, out var typed))
            {
                form.Convert(field, typed.ToString("yyyy-MM-dd'T'HH:mm:ss", CultureInfo.InvariantCulture) + form[OffsetOf(field)]);
            }
        }
    }

    private static string Written(TimeSpan offset) => (offset < TimeSpan.Zero ? "-" : "+") + offset.ToString(@"hh\:mm", CultureInfo.InvariantCulture);
}
