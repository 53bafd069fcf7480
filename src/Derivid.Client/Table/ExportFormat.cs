namespace Derivid.Client.Table;

/// <summary>How to write the table out.</summary>
public enum ExportFormat
{
    /// <summary>CSV in UTF-8, with the columns of the seed tables.</summary>
    Csv,

    /// <summary>JSON.</summary>
    Json,
}
