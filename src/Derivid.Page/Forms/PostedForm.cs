using System.Globalization;
using System.Text.Json;
using Derivid.Client;
using Microsoft.AspNetCore.Http;

namespace Derivid.Page.Forms;

/// <summary>A form as it came back from the browser, and what is wrong with it.</summary>
/// <remarks>
/// A field that goes into a request of the service is named by its place there, a JSON Pointer (RFC 6901), and, where it isn't
/// plain text, by what it is: <c>/windowCelsius:number</c>; see <see cref="FormBody"/>. So a problem that names a place finds
/// its field. Fields of the page's own have plain names. Thread safety: of one request.
/// </remarks>
public sealed class PostedForm
{
    /// <summary>The field by which the framework tells forms apart.</summary>
    public const string HandlerField = "_handler";

    /// <summary>The field that says under which name the browser keeps what was typed.</summary>
    public const string DraftField = "_draft";

    /// <summary>The field with the key by which the service does once what is sent twice.</summary>
    public const string IdempotencyKeyField = "idempotencyKey";

    private readonly IFormCollection _fields;
    private readonly List<FieldFault> _faults = [];
    private readonly Dictionary<string, string> _converted = new(StringComparer.Ordinal);
    private readonly Dictionary<string, string> _shown = new(StringComparer.Ordinal);
    private readonly Dictionary<string, string> _labels = new(StringComparer.Ordinal);
    private readonly Dictionary<string, string> _fieldsByPlace = new(StringComparer.Ordinal);

    private bool _isDone;

    private PostedForm(IFormCollection fields) => _fields = fields;

    /// <summary>Whether this form was sent; else the view is shown for the first time.</summary>
    public bool IsSent => _fields.Count > 0;

    /// <summary>What is wrong, in the order found.</summary>
    public IReadOnlyList<FieldFault> Faults => _faults;

    /// <summary>Whether somebody changed meanwhile what the form was meant for.</summary>
    public bool IsOutdated { get; private set; }

    /// <summary>The revision a form is meant for: as it was shown, or, once it was refused for being outdated, as it is now.</summary>
    /// <param name="field">The hidden field that holds it.</param>
    /// <param name="now">As it is now. Missing: null, there is none.</param>
    public string? Revision(string field, string? now) => IsSent && !IsOutdated ? this[field] ?? now : now;

    /// <summary>A proposal as it was when the form was shown, not what somebody else has made of it since.</summary>
    /// <param name="now">As it is now.</param>
    public Contracts.ProposalItem Meant(Contracts.ProposalItem now)
    {
        ArgumentNullException.ThrowIfNull(now);
        return int.TryParse(this["revision"], NumberStyles.None, CultureInfo.InvariantCulture, out var revision) ? now with { Revision = revision } : now;
    }

    /// <summary>The names of the fields sent.</summary>
    public IEnumerable<string> Names => _fields.Keys;

    /// <summary>The files sent.</summary>
    public IFormFileCollection Files => _fields.Files;

    /// <summary>What was typed into a field. Missing: null, the form or the field wasn't sent.</summary>
    /// <param name="name">The field.</param>
    public string? this[string name] => _shown.GetValueOrDefault(name) ?? (_fields.TryGetValue(name, out var values) ? values.ToString() : null);

    /// <summary>The key by which the service does once what is sent twice. Missing: null, the form wasn't sent, has none, or is to be another request when it is sent again.</summary>
    public string? IdempotencyKey => IsOutdated || _isDone ? null : this[IdempotencyKeyField];

    /// <summary>A text without spaces at either end. Missing: null, nothing was typed.</summary>
    /// <param name="name">The field.</param>
    public string? Typed(string name) => this[name]?.Trim() is { Length: > 0 } text ? text : null;

    /// <summary>Reads a form of a request.</summary>
    /// <param name="context">The request.</param>
    /// <param name="handler">The form's name; another form's fields are not taken.</param>
    public static PostedForm Of(HttpContext context, string handler)
    {
        ArgumentNullException.ThrowIfNull(context);
        return new PostedForm(
            HttpMethods.IsPost(context.Request.Method) && context.Request.HasFormContentType
            && context.Request.Form[HandlerField] == handler
                ? context.Request.Form
                : FormCollection.Empty);
    }

    /// <summary>All that was chosen in a field of several.</summary>
    /// <param name="name">The field.</param>
    public IReadOnlyList<string> All(string name) =>
        _fields.TryGetValue(name, out var values) ? [.. values.OfType<string>()] : [];

    /// <summary>The same, as the request is to hold it.</summary>
    /// <param name="name">The field.</param>
    internal IReadOnlyList<string> Meant(string name) => _converted.TryGetValue(name, out var value) ? [value] : All(name);

    /// <summary>Has a field stand for something else in the request, as when its unit is another there; what was typed stays.</summary>
    /// <param name="name">The field.</param>
    /// <param name="value">What the request is to hold.</param>
    public void Convert(string name, string value) => _converted[name] = value;

    /// <summary>Has a field hold something else than what was typed, when part of that is done.</summary>
    /// <param name="name">The field.</param>
    /// <param name="text">What is left.</param>
    public void Show(string name, string text) => _shown[name] = text;

    /// <summary>Learns what a field is called, for the list of what is wrong.</summary>
    /// <param name="name">The field.</param>
    /// <param name="label">What it is called.</param>
    public void Call(string name, string label) => _labels[name] = label;

    /// <summary>What a field is called. Missing: null, nobody said.</summary>
    /// <param name="name">The field.</param>
    public string? LabelOf(string name) => _labels.GetValueOrDefault(name);

    /// <summary>What is wrong with one field.</summary>
    /// <param name="name">The field.</param>
    public IEnumerable<string> FaultsOf(string name) =>
        _faults.Where(fault => fault.Field == name).Select(fault => fault.Message);

    /// <summary>Refuses a field.</summary>
    /// <param name="field">The field. Missing: null, the form as a whole.</param>
    /// <param name="message">What is wrong, and what is allowed.</param>
    public void Refuse(string? field, string message) => _faults.Add(new FieldFault(field, message));

    /// <summary>What the form was for is done: shown again, it is another request when it is sent.</summary>
    public void Finish() => _isDone = true;

    /// <summary>Refuses the form as it was shown; sent again, it is meant for what there is now, and is another request.</summary>
    /// <param name="message">What came between.</param>
    public void Outdate(string message)
    {
        IsOutdated = true;
        Refuse(null, message);
    }

    /// <summary>Refuses what the service refused, field by field; a field refused before is wrong for the reason given then.</summary>
    /// <param name="refusal">The service's problem.</param>
    public void Refuse(DerividException refusal)
    {
        ArgumentNullException.ThrowIfNull(refusal);
        if (refusal.Status == System.Net.HttpStatusCode.PreconditionFailed)
        {
            Outdate("Somebody changed this meanwhile. What you typed is still here; look at theirs, and send it again to put yours in its place.");
            return;
        }

        if (refusal.Type == Contracts.ProblemBody.TypeOf(Contracts.ProblemSlugs.IdempotencyKeyReused))
        {
            Outdate("It was taken before, as it was then, and the answer got lost. What you typed since is still here; look at what came of it, and send it again if it is still to be done.");
            return;
        }

        if (refusal.Type == Contracts.ProblemBody.TypeOf(Contracts.ProblemSlugs.KeyAlreadyMade))
        {
            Outdate(refusal.Detail + " Sent again, this form makes another key.");
            return;
        }

        if (refusal.Errors.Count == 0)
        {
            Refuse(null, refusal.Detail);
        }

        var refused = _faults.Select(fault => fault.Field).ToHashSet();
        foreach (var (place, messages) in refusal.Errors)
        {
            var field = FieldAt(place);
            foreach (var message in refused.Contains(field) && field is not null ? [] : messages)
            {
                // A line of a file sent has no field; what is wrong there says where.
                Refuse(field, Contracts.CsvPlace.Parse(place) is null ? message : $"{Shown.Capital(place)}: {message}");
            }
        }
    }

    /// <summary>The form as the JSON of a request. Shape: UTF-8; fields left empty are left out.</summary>
    /// <param name="bare">
    /// Names of fields that say nothing by themselves, such as the kind in a row of which nothing else was filled in: a row
    /// with no others is left out.
    /// </param>
    public ReadOnlyMemory<byte> ToJson(params IReadOnlyCollection<string> bare) => FormBody.Of(this, bare, _fieldsByPlace).ToUtf8();

    /// <summary>The form as a request's record.</summary>
    /// <typeparam name="T">A wire type.</typeparam>
    /// <param name="bare">As for <see cref="ToJson"/>.</param>
    /// <returns>Missing: null, a field can't be read as what it should be, and is refused.</returns>
    public T? Read<T>(params IReadOnlyCollection<string> bare)
        where T : class
    {
        using var json = JsonDocument.Parse(ToJson(bare));
        if (MissingIn(typeof(T), json.RootElement) is { Count: > 0 } missing)
        {
            missing.ForEach(member => Refuse(FieldAt("/" + member), "Must be filled in."));
            return null;
        }

        try
        {
            return json.Deserialize<T>(Contracts.WireJson.Options);
        }
        catch (JsonException fault)
        {
            var place = (fault.Path ?? "$").TrimStart('$').Replace('.', '/').Replace("[", "/", StringComparison.Ordinal).Replace("]", "", StringComparison.Ordinal);
            var field = FieldAt(place);
            Refuse(field, field is null ? "Something in this form can't be read." : $"\"{this[field]}\" can't be read here.");
            return null;
        }
    }

    /// <summary>Does what the form is for; what the service finds wrong with it is kept as faults of its fields.</summary>
    /// <typeparam name="T">What comes of it.</typeparam>
    /// <param name="work">The work.</param>
    /// <returns>Missing: null, it was refused.</returns>
    /// <exception cref="DerividException">
    /// The service can't do it just now or the session has ended: shown as a failure, with what was typed.
    /// </exception>
    public async Task<T?> TryAsync<T>(Func<Task<T>> work)
        where T : class
    {
        ArgumentNullException.ThrowIfNull(work);
        try
        {
            return await work();
        }
        catch (DerividException refusal) when (refusal.IsRefusal)
        {
            Refuse(refusal);
            return null;
        }
    }

    // Members a request must have and an empty field left out.
    private static List<string> MissingIn(Type type, JsonElement json) => [.. Contracts.WireJson.Options.GetTypeInfo(type).Properties
        .Where(member => member.IsRequired && !json.TryGetProperty(member.Name, out _)).Select(member => member.Name)];

    // A place finds its own field, else the first one inside it, else the nearest around it; a part of the address the field of its name.
    private string? FieldAt(string place)
    {
        if (!place.StartsWith('/'))
        {
            return place.StartsWith('?') && _fields.ContainsKey(place[1..]) ? place[1..] : null;
        }

        for (var around = place; around.Length > 0; around = around[..around.LastIndexOf('/')])
        {
            var inside = around + "/";
            if (_fieldsByPlace.TryGetValue(around, out var own))
            {
                return own;
            }

            if (_fieldsByPlace.Where(field => field.Key.StartsWith(inside, StringComparison.Ordinal)).Select(field => field.Value).FirstOrDefault() is { } first)
            {
                return first;
            }
        }

        return null;
    }
}

/// <summary>What is wrong with a field.</summary>
/// <param name="Field">Its name. Missing: null, the form as a whole.</param>
/// <param name="Message">What is wrong, and what is allowed.</param>
public sealed record FieldFault(string? Field, string Message);
