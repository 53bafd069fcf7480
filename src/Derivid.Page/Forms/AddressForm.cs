using Derivid.Client;
using Derivid.Core;

namespace Derivid.Page.Forms;

/// <summary>A view whose form is an address: what is typed stands in it, and its answer can be kept and sent on.</summary>
public abstract class AddressForm : View
{
    /// <summary>What was found wrong: the field, and why. Missing: the field is null, it is of the whole.</summary>
    protected List<(string? Field, string Message)> Faults { get; } = [];

    /// <summary>What can be typed, in the order it is asked.</summary>
    protected abstract IReadOnlyList<AddressField> Fields { get; }

    /// <summary>What was typed. Missing: null, nothing but spaces.</summary>
    /// <param name="name">The field.</param>
    protected string? Typed(string name) => Context.Request.Query[name].ToString().Trim() is { Length: > 0 } text ? text : null;

    /// <summary>A number as people type it, with a decimal comma too; what is none is noted. Missing: null, nothing, or none.</summary>
    /// <param name="name">The field.</param>
    protected double? Number(string name)
    {
        if (Typed(name) is not { } text)
        {
            return null;
        }

        var number = Figure.Read(text);
        if (number is null && Invalid(name) is null)
        {
            Faults.Add((name, $"\"{text}\" is no number; write it like 2.5."));
        }

        return number;
    }

    /// <summary>Whether a field is at fault, as <c>aria-invalid</c> has it. Missing: null, it is not.</summary>
    /// <param name="name">The field.</param>
    protected string? Invalid(string name) => Faults.Exists(fault => fault.Field == name) ? "true" : null;

    /// <summary>Asks the service, and notes what it refuses beside the field.</summary>
    /// <param name="ask">Asks, and keeps the answer.</param>
    protected async Task AskAsync(Func<Task> ask)
    {
        ArgumentNullException.ThrowIfNull(ask);
        try
        {
            await ask();
        }
        catch (DerividException refusal) when (refusal.IsRefusal)
        {
            Faults.AddRange(refusal.Errors.Count == 0
                ? [(null, refusal.Detail)]
                : refusal.Errors.SelectMany(error => error.Value.Select(message => (FieldOf(error.Key), message))));
        }
    }

    // The field itself, else one that something below or above it is typed into. Missing: null, none is.
    private string? FieldOf(string place) => (Fields.FirstOrDefault(field => "/" + field.Place == place)
        ?? Fields.FirstOrDefault(field => field.Place.StartsWith(place.TrimStart('/') + "/", StringComparison.Ordinal))
        ?? Fields.FirstOrDefault(field => place.StartsWith($"/{field.Place.Split('/')[0]}/", StringComparison.Ordinal)))?.Name;
}

/// <summary>One field of an address.</summary>
/// <param name="Name">Its name in the address.</param>
/// <param name="Label">What is asked.</param>
/// <param name="Place">Its place in the request, a JSON Pointer without its first stroke.</param>
/// <param name="IsNumber">Whether a number is typed.</param>
/// <param name="Hint">What to know of it. Missing: null.</param>
/// <param name="Example">What it may look like. Missing: null.</param>
public sealed record AddressField(string Name, string Label, string Place, bool IsNumber = false, string? Hint = null, string? Example = null);
